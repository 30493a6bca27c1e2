"""The branches of a tee between tanks: what each costs, and whether a dry pickup holds back air."""

from collections import Counter
from itertools import takewhile

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.attitude import direction, specific_force_to_gravity
from plumbing.geometry.pickup import clunk_position
from plumbing.hydraulics.breakdown import drop_along
from plumbing.hydraulics.layout_circuit import backwards
from plumbing.hydraulics.line_elements import line_rows, part_rows
from plumbing.model.line import Line
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Pickup
from plumbing.network.chains import Teed
from plumbing.network.survey import Survey
from plumbing.physics.arrays import Array
from plumbing.simulation.setup import reference_of


@frozen
class Leg:
    """One branch of a tee: a tank's port and the lines to where the branches meet."""

    reference: str
    lines: tuple[Line, ...]

    @property
    def tank(self) -> str:
        """Its tank."""
        return self.reference.partition(".")[0]

    @property
    def port(self) -> str:
        """Its port."""
        return self.reference.partition(".")[2]


def legs(survey: Survey, teed: Teed) -> tuple[Leg, ...]:
    """Branches of tanks that give side by side, each up to the first line they share."""
    ways = {reference: _way(survey, reference) for reference in teed.ports}
    passed = Counter(name for way in ways.values() for name in way)
    return tuple(
        Leg(
            reference,
            tuple(survey.network.layout.lines[n] for n in takewhile(lambda n: passed[n] == 1, way)),
        )
        for reference, way in ways.items()
    )


def _way(survey: Survey, reference: str) -> tuple[str, ...]:
    """Lines from a tank's port to an engine it feeds."""
    tank = reference.partition(".")[0]
    for engine in survey.network.layout.engines:
        found = survey.fuel_path(tank, engine)
        if found is not None and found.port == reference:
            return found.path.lines
    return ()


def drop(survey: Survey, leg: Leg, flow: float, density: float, viscosity: float) -> float:
    """Pressure lost in a branch that carries all the flow, its pickup clean [Pa]."""
    layout, reference = survey.network.layout, reference_of(survey.network.layout)
    rows = backwards(part_rows(layout.tanks[leg.tank], leg.port, reference, layout.joints))
    for line in leg.lines:
        rows += line_rows(layout, line, survey.lines[line.name].length, reference)
    return drop_along(rows, flow, density, viscosity).value


def head(survey: Survey, dry: Leg, wet: Leg, density: float) -> float:
    """Most a dry pickup stands over a wet one in any load flown, as pressure [Pa].

    A pickup that stands higher has less pressure behind it, by the fuel column between them.
    """
    most = survey.network.layout.aircraft.load_factors
    felt = [(0.0, 0.0, 1.0), (0.0, 0.0, most.positive), (0.0, 0.0, most.negative)]
    felt += [(-most.forward, 0.0, 1.0), (most.braking, 0.0, 1.0)]
    gravity = np.array([specific_force_to_gravity(*load) for load in felt])
    apart = _places(survey, dry, gravity) - _places(survey, wet, gravity)
    return density * float(np.max(np.sum(-gravity * apart, axis=1)))


def _places(survey: Survey, leg: Leg, gravity: Array) -> Array:
    """Where a branch's pickup opens under each effective gravity [m], shape (G, 3)."""
    tank = survey.network.layout.tanks[leg.tank]
    port, pickup = tank.ports[leg.port], pickup_of(survey, leg)
    if pickup is None or not pickup.hangs:
        return np.broadcast_to(np.asarray(port.inner_end, float), gravity.shape)
    mesh = tank_mesh(tank)
    reach = pickup.reach
    if reach is None:
        reach = float(np.linalg.norm(mesh.vertices - np.asarray(port.at), axis=1).max())
    return clunk_position(mesh, port.at, reach, direction(gravity))


def pickup_of(survey: Survey, leg: Leg) -> Pickup | None:
    """Pickup at the branch's port."""
    return survey.network.layout.tanks[leg.tank].ports[leg.port].pickup
