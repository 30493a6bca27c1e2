"""Mass and centre of gravity at each step of the feed order, and what slosh does to them."""

from collections.abc import Sequence

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.attitude import direction, specific_force_to_gravity
from plumbing.geometry.cut import cut
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.pools import pools
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array
from plumbing.simulation.fluid import blend_of
from plumbing.simulation.levels import LEVEL
from plumbing.simulation.room import Room


@frozen
class State:
    """The aircraft with some of its tanks empty.

    Attributes
    ----------
    what : str
        The state in words.
    tanks : tuple of str
        Tanks that have just run empty, or the one still full; empty for full tanks.
    gear_up : bool
        Whether the gear is retracted.
    mass : float
        All-up mass [kg].
    cg : tuple of float
        Centre of gravity [m].
    """

    what: str
    tanks: tuple[str, ...]
    gear_up: bool
    mass: float
    cg: Vector


def lacking(layout: Layout) -> str:
    """Key path of what is missing to know the balance; empty if nothing is."""
    aircraft = layout.aircraft
    if aircraft.dry_mass is None:
        return "aircraft.dry-mass"
    return "aircraft.dry-cg" if aircraft.dry_cg is None else ""


def gears(layout: Layout) -> int:
    """Number of gear positions whose dry centre of gravity is stated."""
    return 1 if layout.aircraft.dry_cg_gear_up is None else 2


def states(layout: Layout, steps: Sequence[tuple[str, ...]]) -> tuple[State, ...]:
    """Full, tanks emptied step by step as the vents decide, and dry; gear down, then up.

    Between two of them the centre of gravity moves one way only, as long as the fuel of a tank
    keeps its own centre; so limits are met everywhere if they are met here.
    """
    bare = without_fuel(layout)
    if bare is None:
        return ()
    bare_mass, *centres = bare
    dry = list(enumerate(centres))[: gears(layout)]
    fuel = {
        name: (fuel_mass(layout, layout.tanks[name]), _centre(layout.tanks[name]))
        for step in steps
        for name in step
    }
    found = []
    for empty in range(len(steps) + 1):
        left = [fuel[name] for step in steps[empty:] for name in step]
        last = steps[empty - 1] if empty else ()
        for gear_up, centre in dry:
            mass, cg = centre_of_gravity(bare_mass, centre, left)
            what = _said(last, bool(left)) + (" and the gear up" if gear_up else "")
            found.append(State(what, last, bool(gear_up), mass, cg))
    return tuple(found)


def stranded_states(layout: Layout) -> tuple[State, ...]:
    """Each main tank full and all others empty, gear down."""
    bare = without_fuel(layout)
    if bare is None:
        return ()
    found = []
    for tank in layout.tanks.values():
        if tank.role != "main":
            continue
        fuel = [(fuel_mass(layout, tank), _centre(tank))]
        mass, cg = centre_of_gravity(bare[0], bare[1], fuel)
        what = f"only {tank.name} still full"
        found.append(State(what, (tank.name,), False, mass, cg))
    return tuple(found)


def without_fuel(layout: Layout) -> tuple[float, Array, Array] | None:
    """Mass [kg] and centre of gravity [m] without fuel, gear down and up; smoke oil is on board.

    None where the file does not say them. Of smoke oil the mass is that of fuel.
    """
    aircraft = layout.aircraft
    if aircraft.dry_mass is None or aircraft.dry_cg is None:
        return None
    smoke = [
        (fuel_mass(layout, tank), _centre(tank))
        for tank in layout.tanks.values()
        if tank.role == "smoke"
    ]
    down = aircraft.dry_cg
    mass, low = centre_of_gravity(aircraft.dry_mass, np.array(down, float), smoke)
    raised = np.array(aircraft.dry_cg_gear_up or down, float)
    _, high = centre_of_gravity(aircraft.dry_mass, raised, smoke)
    return mass, np.array(low), np.array(high)


def centre_of_gravity(
    dry_mass: float, dry_cg: Array, fuel: Sequence[tuple[float, Array]]
) -> tuple[float, Vector]:
    """Mass [kg] and centre of gravity [m] of an aircraft with masses of fuel at their places."""
    mass = dry_mass + sum(each for each, _ in fuel)
    moment = dry_mass * dry_cg + sum(each * at for each, at in fuel)
    x, y, z = (moment / mass if mass > 0.0 else dry_cg).tolist()
    return mass, (x, y, z)


def _said(last: tuple[str, ...], more: bool) -> str:
    if not last:
        return "full tanks"
    return f"{' and '.join(last)} just empty" if more else "no fuel"


def fuel_mass(layout: Layout, tank: Tank) -> float:
    """Mass of the fuel a tank is filled with for flight [kg]."""
    return density(layout) * (1.0 - tank.displaced) * tank.fill * tank_mesh(tank).volume


def density(layout: Layout) -> float:
    """Density of fuel and oil on an ordinary day [kg/m3]."""
    return float(blend_of(layout).properties(layout.fuel.temperature.usual)[0])


def _centre(tank: Tank) -> Array:
    """Centre of the fuel in a tank filled for flight, aircraft level [m]."""
    solid = cut(tank_mesh(tank), LEVEL)
    centre: Array = solid.centroid_at(solid.level_for(tank.fill * solid.capacity))[0]
    return centre


def slosh(layout: Layout, tank: Tank, forward: float) -> float:
    """Moment that fuel running aft in a half-full tank adds [kg m].

    Baffles cut the tank into equal lengths, and the fuel of each runs only within it.

    Parameters
    ----------
    layout : Layout
        The layout.
    tank : Tank
        The tank.
    forward : float
        Acceleration forwards [g].
    """
    running = direction(specific_force_to_gravity(-forward, 0.0, 1.0))
    ways = np.stack([np.array(LEVEL), running])
    mesh = tank_mesh(tank)
    level, aft = _half_full(mesh, ways)
    mass = 0.5 * density(layout) * (1.0 - tank.displaced) * mesh.volume
    return float(mass * (aft[0] - level[0]) / (len(tank.baffles) + 1))


def _half_full(mesh: Mesh, ways: Array) -> Array:
    """Centre of the fuel in a half-full tank, upright, then as it runs, shape (2, 3) [m]."""
    half, parted = np.full(2, 0.5 * mesh.volume), Room(mesh).pockets(ways)
    if parted is None:
        solid = cut(mesh, ways)
        return solid.centroid_at(solid.level_for(half))
    lies, upright, every = pools(parted), np.zeros(2, dtype=np.intp), np.arange(2)
    return lies.centroid(lies.turned(lies.poured(half, upright), upright, every), every)
