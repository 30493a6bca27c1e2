"""What belongs within the skin of the airframe."""

from collections.abc import Iterator

import numpy as np

from plumbing.geometry.inset import contains
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.near import surface_distance
from plumbing.geometry.route import filleted, length, sampled
from plumbing.model.engine import Engine
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.meshes import solid_mesh
from plumbing.model.parts import Drain, FillPort, Outlet
from plumbing.network.lengths import route_points
from plumbing.network.space import Thing, joined, line_thing, parts, tanks
from plumbing.physics.arrays import Array, Flags

_STEP = 2e-3  # between the points of a line that are asked about [m]


def airframe(layout: Layout) -> Mesh | None:
    """What is within the skin; None where the file does not say."""
    shape = layout.aircraft.airframe
    return None if shape is None else solid_mesh(shape)


def indoors(layout: Layout, room: Mesh, near: float) -> Iterator[Thing]:
    """What has to lie in the airframe: tanks, parts but engines, lines but where they are led out.

    A line is led out to an outlet, a fill port, a drain or an engine.

    Parameters
    ----------
    layout : Layout
        The layout.
    room : Mesh
        What is within the skin.
    near : float
        Distance to be kept to the skin [m].
    """
    yield from tanks(layout)
    yield from (thing for thing in parts(layout) if thing.kind != "engine")
    for line in layout.lines.values():
        start, end = _led_out(layout, line, room, near)
        if start + end < length(route_points(layout, line)):
            yield line_thing(layout, line, start, end)


def _led_out(layout: Layout, line: Line, room: Mesh, near: float) -> tuple[float, float]:
    """How much of a line is led out at its start and its end [m]."""
    opens = [
        isinstance(layout.part(name), Outlet | FillPort | Drain | Engine) for name in joined(line)
    ]
    if not any(opens):
        return 0.0, 0.0
    tube = layout.tube_of(line)
    bend = line.bend_radius or tube.bend_radius or 0.0
    chain = sampled(filleted(np.array(route_points(layout, line)), bend), _STEP)
    free = contains(room, chain)
    free &= surface_distance(room, chain) >= 0.5 * tube.outside_diameter + near
    first, last = (_until(way, clear) for way, clear in ((chain, free), (chain[::-1], free[::-1])))
    return first if opens[0] else 0.0, last if opens[1] else 0.0


def _until(chain: Array, free: Flags) -> float:
    """Length of a chain up to its first free point [m]; all of it where there is none."""
    return length(chain[: int(free.argmax()) + 1]) if free.any() else length(chain)
