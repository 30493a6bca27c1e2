"""Everything in the aircraft as coloured solids, for CAD and for the eye."""

from collections.abc import Iterator

import numpy as np

from plumbing.drawing.painting import COOL, HOT, WARM
from plumbing.drawing.palette import RIM, SOFT, stroke_of
from plumbing.drawing.scene import zone_mesh
from plumbing.drawing.text import clean
from plumbing.errors import UsageError
from plumbing.frozen import frozen
from plumbing.geometry.mesh import Mesh, mesh_of
from plumbing.geometry.passages import edge_distance
from plumbing.geometry.pierced import pierced
from plumbing.geometry.surface import ring_round, surface
from plumbing.model.base import Named
from plumbing.model.layout import Layout
from plumbing.model.structure import Former, Passage
from plumbing.network import Survey, space
from plumbing.network.airframe import airframe
from plumbing.network.former_holes import axes_of
from plumbing.physics.arrays import Array
from plumbing.simulation.tankage import Tankage

MOST = 20_000  # convex pieces of all bodies: a million triangles, 50 MB as STL
TANK = "#8fb6cc"  # fuel as the drawings have it, darker to be seen through
FUEL = "#2f7fae"
KINDS = ("fuel", "tanks", "parts", "lines", "formers", "zones", "airframe")


@frozen(eq=False)
class Shown:
    """One solid.

    Attributes
    ----------
    group : str
        One of `KINDS`.
    name, words : str
        Its name, and what it is.
    row : int
        Line of the file it stands in.
    colour : str
        As #rrggbb.
    opacity : float
        From 0 to 1.
    mesh : Mesh
        Its surface, in aircraft axes.
    """

    group: str
    name: str
    words: str
    row: int
    colour: str
    opacity: float
    mesh: Mesh


def solids(layout: Layout, survey: Survey) -> tuple[Shown, ...]:
    """All solids of a layout: the plumbing, and the formers and zones round it.

    Raises
    ------
    UsageError
        They have more corners than a model can be made of.
    """
    return (*plumbing(layout, survey), *_formers(layout), *_zones(layout), *_airframe(layout))


def plumbing(layout: Layout, survey: Survey) -> tuple[Shown, ...]:
    """Tanks with their walls, parts and tubes.

    Raises
    ------
    UsageError
        They have more corners than a model can be made of.
    """
    _refuse_too_many(layout)
    return (*_tanks(layout), *_parts(layout), *_lines(layout, survey))


def insides(layout: Layout, tanks: Tankage) -> tuple[Shown, ...]:
    """The room in each tank as a run has it, for what shows the fuel there."""
    return tuple(
        _shown("fuel", layout.tanks[one.name], "fuel", (FUEL, 1.0), one.mesh)
        for one in tanks.vessels
    )


def _refuse_too_many(layout: Layout) -> None:
    things = [*space.fuel(layout), *space.parts(layout)]
    things += [thing for _, thing in space.zones(layout)]
    if sum(len(thing.body.points) for thing in things) > MOST:
        raise UsageError(
            f"the aircraft has more than {MOST} straights of tube and facets of hollow shapes; "
            "a model in space is not made of so many"
        )


def _tanks(layout: Layout) -> Iterator[Shown]:
    for thing in space.tanks(layout):
        tank = layout.tanks[thing.name]
        words = "header tank" if tank.role == "header" else "tank"
        yield _shown("tanks", tank, words, (TANK, 0.35), surface(thing.body))


def _parts(layout: Layout) -> Iterator[Shown]:
    for thing in space.parts(layout):
        part = layout.part(thing.name)
        yield _shown("parts", part, thing.kind, (SOFT, 1.0), surface(thing.body))


def _lines(layout: Layout, survey: Survey) -> Iterator[Shown]:
    for line, thing in space.lines(layout):
        stroke = stroke_of(str(survey.lines[line.name].role))
        tube = surface(thing.body, flat_ends=True)
        yield _shown("lines", line, f"line, {stroke.words}", (stroke.colour, 1.0), tube)


def _formers(layout: Layout) -> Iterator[Shown]:
    for former in layout.formers.values():
        if former.outline:
            words = "former" if former.across == "x" else "rib"
            yield _shown("formers", former, words, (RIM, 0.3), former_mesh(former))


def _zones(layout: Layout) -> Iterator[Shown]:
    for zone in layout.zones.values():
        colour = WARM if zone.kind in HOT else COOL
        yield _shown("zones", zone, f"zone, {zone.kind}", (colour, 0.25), zone_mesh(zone))


def _airframe(layout: Layout) -> Iterator[Shown]:
    room = airframe(layout)
    if room is not None:
        row = layout.aircraft.place_of("airframe").line
        yield Shown("airframe", "airframe", "airframe", row, RIM, 0.15, room)


def _shown(group: str, item: Named, words: str, paint: tuple[str, float], mesh: Mesh) -> Shown:
    return Shown(group, clean(item.name), words, item.place.line, *paint, mesh)


def former_mesh(former: Former) -> Mesh:
    """A former as a plate with its holes, in aircraft axes.

    A hole that runs over the edge or into another is not cut.
    """
    holes: list[tuple[Array, Array]] = []
    cut: list[Passage] = []
    for passage in former.passages.values():
        clear = edge_distance(former.outline, [passage.at])[0] > 0.5 * passage.diameter
        if clear and not any(_meet(passage, other) for other in cut):
            rim = _rim(passage)
            holes.append((rim, rim))
            cut.append(passage)
    half = 0.5 * former.thickness
    plate = pierced(np.array(former.outline), -half, half, holes)
    at = former.station * np.eye(3)["xy".index(former.across)]
    return mesh_of(at + plate.vertices @ axes_of(former), plate.faces)


def _meet(one: Passage, other: Passage) -> bool:
    apart = float(np.hypot(*np.subtract(one.at, other.at)))
    return apart <= 0.51 * (one.diameter + other.diameter)


def _rim(passage: Passage) -> Array:
    ring = ring_round(np.array([0.0, 0.0, 1.0]), 0.5 * passage.diameter)[:, :2]
    rim: Array = ring + np.array(passage.at)
    return rim
