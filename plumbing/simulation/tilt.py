"""Fuel that the pickups cannot reach, over pitch and roll, and where it matters."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from plumbing.geometry.attitude import direction, gravity_body
from plumbing.geometry.below import span, volume_below
from plumbing.geometry.envelope import attitude_grid
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.simulation.flight import profile_for
from plumbing.simulation.opening import USUAL_BORE, opening_of
from plumbing.simulation.profile import Profile
from plumbing.simulation.room import room_of
from plumbing.simulation.tankage import distinct_directions
from plumbing.simulation.tilt_result import Leanings, TiltMap
from plumbing.simulation.vessel import Bag, basin_of

GRID = (37, 73)  # every 5 degrees


def tilt(
    layout: Layout,
    survey: Survey,
    tanks: Sequence[str] | None = None,
    grid: tuple[int, int] = GRID,
) -> TiltMap:
    """Map the unusable fuel of the tanks over pitch and roll.

    Unusable is the fuel below which the opening that feeds draws air: below it liquid and air
    come together, and then air alone. A clunk lies where gravity pulls it within its reach. A
    tank that feeds several engines by several ports counts with the worst of them.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    tanks : sequence of str, optional
        Only these; by default all that feed an engine.
    grid : tuple of int
        Values along pitch (-90 to 90 deg) and along roll (-180 to 180 deg).

    Returns
    -------
    TiltMap
        The maps, and the attitudes that are flown and parked in.
    """
    ports = {name: survey.feed_ports(name) for name in tanks or layout.tanks}
    fed = {name: found for name, found in ports.items() if found}
    half = np.pi / 2.0
    over = attitude_grid((-half, half), (-2.0 * half, 2.0 * half), grid)
    flights = _profiles(layout)
    where = _envelope(layout, flights)
    down = np.concatenate([over.down, where.down])
    rows = [
        folded(layout.tanks[name], down)
        if name in survey.bags
        else unusable(layout, layout.tanks[name], found, down)
        for name, found in fed.items()
    ]
    volumes = np.array([row[0] for row in rows]).reshape(len(fed), len(down))
    capacity = np.array([row[1] for row in rows])
    split = len(over.down)
    return TiltMap(
        tanks=tuple(fed),
        ports=tuple(fed.values()),
        unfed=tuple(name for name in ports if name not in fed),
        capacity=capacity,
        pitch=over.pitch,
        roll=over.roll,
        unusable=volumes[:, :split].reshape(len(fed), len(over.pitch), len(over.roll)),
        envelope=where,
        leaning=volumes[:, split:],
        flights=tuple(profile.name for profile in flights),
        assumed=any(profile.assumed for profile in flights),
    )


def folded(tank: Tank, down: Array) -> tuple[Array, float]:
    """What stays in a bag in every direction (D, 3), shape (D,), and its capacity [m3]."""
    capacity = (1.0 - min(tank.displaced, 0.95)) * tank_mesh(tank).volume
    return np.full(len(down), Bag.of(tank).stays * capacity), capacity


def unusable(layout: Layout, tank: Tank, ports: Sequence[str], down: Array) -> tuple[Array, float]:
    """Fuel in a tank, drawn down from full, when its feed draws air.

    What lies in other pockets stays there.

    Parameters
    ----------
    layout : Layout
        For the tubes.
    tank : Tank
        The tank.
    ports : sequence of str
        Ports by which it feeds; the worst counts.
    down : Array
        Unit vectors along effective gravity, shape (D, 3).

    Returns
    -------
    Array
        Volumes, shape (D,) [m3].
    float
        Capacity [m3].
    """
    mesh = tank_mesh(tank)
    heights, parted = span(mesh, down), room_of(tank).pockets(down)
    holds = 1.0 - min(tank.displaced, 0.95)
    tubes = {
        end: layout.tube_of(line).inside_diameter
        for line in layout.lines.values()
        for end in (line.from_, line.to)
    }
    worst = np.zeros(len(down))
    for name in ports:
        port = tank.ports[name]
        bore = port.bore or tubes.get(f"{tank.name}.{name}") or USUAL_BORE
        opening = opening_of(port, mesh, heights, bore, heights.down)
        if parted is None:
            left = volume_below(mesh, down, opening.covered)
        else:
            basin = basin_of(parted, opening.point)
            left = parted.drawn_down(opening.covered, basin, np.arange(len(down))).sum(axis=1)
        worst = np.maximum(worst, holds * left)
    capacity = holds * mesh.volume
    return np.minimum(worst, capacity), capacity


def _profiles(layout: Layout) -> tuple[Profile, ...]:
    """Flights of the layout, or the usual one."""
    named = [name for name, one in layout.flights.items() if one.phases or one.log]
    return tuple(profile_for(layout, name) for name in named) or (profile_for(layout),)


def _envelope(layout: Layout, flights: Sequence[Profile]) -> Leanings:
    """Distinct directions of gravity in the flights, then those of the parking attitudes."""
    names = [
        f"{profile.name}, {phase}" if len(flights) > 1 else phase
        for profile in flights
        for phase in profile.phase
    ]
    gravity = np.concatenate([profile.gravity for profile in flights])
    seconds = np.concatenate([profile.duration for profile in flights])
    down, index = distinct_directions(gravity)
    first = [int(np.argmax(index == row)) for row in range(len(down))]
    parked = list(layout.parking.values())
    still = [direction(gravity_body(one.pitch, one.roll)) for one in parked]
    down = np.concatenate([down, np.array(still).reshape(-1, 3)])
    return Leanings(
        name=(*(names[row] for row in first), *(f"{one.kind}, {one.name}" for one in parked)),
        down=down,
        pitch=np.arcsin(np.clip(down[:, 0], -1.0, 1.0)),
        roll=_roll(down),
        seconds=np.concatenate(
            [np.bincount(index, weights=seconds), [one.duration for one in parked]]
        ),
        parked=np.arange(len(down)) >= len(first),
    )


def _roll(down: Array) -> Array:
    """Roll of an attitude at rest [rad]; 0 where the nose points straight up or down."""
    upright = np.hypot(down[:, 1], down[:, 2]) > 1e-6
    return np.where(upright, np.arctan2(down[:, 1], -down[:, 2]), 0.0)
