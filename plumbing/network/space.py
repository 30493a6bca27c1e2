"""Everything in the aircraft as bodies in space, and where they stand."""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.bodies import Body, Gap, gap, tube
from plumbing.model.engine import Engine
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout, Part, split_port
from plumbing.model.line import Line
from plumbing.model.structure import Disc, Zone
from plumbing.model.tank import Tank
from plumbing.network.lengths import PUSHED_ON, route_points
from plumbing.network.room import body_of, part_body, plate_body, tank_body, tube_body, zone_body
from plumbing.units import show

_CACHED = 4096
_WIDE = 20.0  # as far as fragments of a disc are looked for [m]


@frozen(eq=False)
class Thing:
    """Something of the layout file that takes up room.

    Attributes
    ----------
    kind, name : str
        What it is called.
    field : str
        Model field that says where it is.
    body : Body
        The room it takes up.
    inside : tuple of str
        What it goes through, or stands in, on purpose.
    words : str
        What it is called where that is more than its name.
    """

    kind: str
    name: str
    field: str
    body: Body
    inside: tuple[str, ...] = ()
    words: str = ""

    def is_meant(self, other: "Thing") -> bool:
        """Whether the file says that one of them stands in the other."""
        return other.name in self.inside or self.name in other.inside


def zones(layout: Layout, *kinds: str) -> Iterator[tuple[Zone, Thing]]:
    """Zones of some kinds, or all."""
    for zone in layout.zones.values():
        if not kinds or zone.kind in kinds:
            yield zone, Thing("zone", zone.name, "body", zone_body(zone), zone.inside)


def tanks(layout: Layout) -> Iterator[Thing]:
    """Tanks with their walls."""
    for tank in layout.tanks.values():
        yield Thing("tank", tank.name, "shape", tank_body(tank), tank.inside)


def lines(layout: Layout) -> Iterator[tuple[Line, Thing]]:
    """Lines from end to end."""
    for line in layout.lines.values():
        yield line, line_thing(layout, line)


def line_thing(layout: Layout, line: Line, start: float = 0.0, end: float = 0.0) -> Thing:
    """A line without the first and the last of it [m].

    What a tank stands in on purpose, the lines on that tank are led through.
    """
    radius = 0.5 * layout.tube_of(line).outside_diameter
    inside = set(line.inside)
    for name in joined(line):
        part = layout.part(name)
        inside |= set(part.inside) if isinstance(part, Tank) else set()
    bend = line.bend_radius or layout.tube_of(line).bend_radius or 0.0
    body = tube_body(route_points(layout, line), bend, radius, start, end)
    return Thing("line", line.name, "route", body, tuple(inside))


def parts(layout: Layout) -> Iterator[Thing]:
    """Parts that have a body: as stated, else a ball as wide as parts of their kind are."""
    for part in layout.parts():
        body = part_body(part)
        if body is not None:
            inside = getattr(part, "inside", ())
            yield Thing(type(part).__name__.lower(), part.name, "at", body, inside)


def formers(layout: Layout) -> Iterator[Thing]:
    """Formers whose outline is drawn."""
    for former in layout.formers.values():
        if former.outline:
            plate = plate_body(former.outline, former.station, former.thickness, former.across)
            yield Thing("former", former.name, "station", plate)


def outlets(layout: Layout) -> Iterator[Thing]:
    """Openings of vents and overflows, as points."""
    for outlet in layout.outlets.values():
        yield Thing("outlet", outlet.name, "at", tube_body((outlet.at,), 0.0, 0.0))


def fuel(layout: Layout) -> Iterator[Thing]:
    """All that fuel is in or comes out of: tanks, lines and outlets."""
    yield from tanks(layout)
    yield from (thing for _, thing in lines(layout))
    yield from outlets(layout)


def joined(line: Line) -> tuple[str, str]:
    """Names of the parts a line joins."""
    return split_port(line.from_)[0], split_port(line.to)[0]


def free_of(layout: Layout, line: Line, names: set[str]) -> Thing:
    """A line without the ends pushed on to some parts, and without what lies in their bodies."""
    pushed_on = PUSHED_ON * layout.tube_of(line).outside_diameter
    taken = [
        pushed_on + _half_width(layout.part(name)) if name in names else 0.0
        for name in joined(line)
    ]
    return line_thing(layout, line, *taken)


def free_of_engines(layout: Layout, line: Line, zone: Zone, near: float) -> Thing:
    """A line without its own end at an engine, where the engine stands in the zone.

    Parameters
    ----------
    near : float
        What is near the zone [m]; twice as much of the line is let off.
    """
    taken = [0.0, 0.0]
    for k, name in enumerate(joined(line)):
        end = tube(route_points(layout, line)[-k], 0.0)
        if isinstance(layout.part(name), Engine) and gap(end, zone_body(zone), near):
            taken[k] = 2.0 * near
    return line_thing(layout, line, *taken)


def _half_width(part: Part) -> float:
    """Half of the longest side of a part's body [m]; none of a tank's, whose ports are on it."""
    body = None if isinstance(part, Tank) else part_body(part)
    return 0.0 if body is None else 0.5 * float((body.box[1] - body.box[0]).max())


@lru_cache(maxsize=_CACHED)  # a remedy moves few things, and all are asked about again
def between(one: Body, other: Body, within: float = np.inf) -> Gap | None:
    """Gap between two bodies [m], or None where it is wider than of interest."""
    return gap(one, other, within)


def clearance(one: Body, other: Body) -> float:
    """Shortest distance between two bodies [m]; 0 where they meet."""
    found = between(one, other)
    return 0.0 if found is None else found.size


def disc_planes(layout: Layout) -> Iterator[tuple[Zone, Thing]]:
    """Planes in which fragments of discs without a shield leave, each as a wide thin disc."""
    for zone in layout.zones.values():
        if isinstance(zone.body, Disc) and not zone.shielded:
            plane = body_of(replace(zone.body, radius=_WIDE))
            yield zone, Thing("zone", zone.name, "body", plane, (), f"the plane of {zone.name}")


def stands_over(tank: Tank, zone: Zone) -> bool:
    """Whether what drips from a tank falls on a zone; their outlines are taken as boxes."""
    low, high = tank_body(tank).box
    under, over = zone_body(zone).box
    beside = np.any(high[:2] < under[:2]) or np.any(over[:2] < low[:2])
    return bool(not beside and 0.5 * (under[2] + over[2]) < low[2])


def place_words(layout: Layout, at: Vector) -> str:
    """A place in coordinates, and how far it is from the nearest former.

    Such as `[412 mm, 0 mm, 30 mm], 12 mm aft of F2`.
    """
    words = f"[{', '.join(show(float(x), 'length', 4) for x in at)}]"
    across = [former for former in layout.formers.values() if former.across == "x"]
    if not across:
        return words
    nearest = min(across, key=lambda former: abs(at[0] - former.station))
    beyond = float(at[0]) - nearest.station
    if abs(beyond) <= 0.5 * nearest.thickness:
        return f"{words}, at {nearest.name}"
    side = "aft" if beyond > 0.0 else "forward"
    return f"{words}, {show(abs(beyond), 'length')} {side} of {nearest.name}"
