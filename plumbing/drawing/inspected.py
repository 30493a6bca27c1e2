"""What an inspector looks for in a tank: where a clunk reaches, what opens where, the reserve."""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from plumbing.drawing import sheet
from plumbing.drawing.palette import INK, PAPER, stroke_of
from plumbing.drawing.sheet import num
from plumbing.drawing.text import clean
from plumbing.drawing.views import View
from plumbing.frozen import frozen
from plumbing.geometry.inset import inset
from plumbing.geometry.outline import silhouette
from plumbing.geometry.pickup import clunk_position
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Port, Tank
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.units import show

DOWN = np.array([0.0, 0.0, -1.0])
REACH, RESERVE = "#00609c", "#1f5fa8"
WORDS = {
    "reach": "clunk reaches",
    "opening": "opening inside",
    "reserve": "reserve level",
    "assumed": "size assumed",
}


@frozen(eq=False)
class Reach:
    """Where the end of a clunk can be: what lies in both of two outlines.

    Attributes
    ----------
    port : str
        Its `tank.port`.
    room : list of Array
        Outlines of the tank drawn in by half the clunk's diameter [m], shape (N, 2) each.
    at, rest : Array
        The port, and where the clunk lies in level flight [m], shape (2,).
    far : float
        Its reach from the port [m].
    """

    port: str
    room: list[Array]
    at: Array
    rest: Array
    far: float


def reaches(layout: Layout, axes: Array) -> Iterator[Reach]:
    """Reach of every clunk in a view."""
    for tank, port in _ports(layout):
        pickup = port.pickup
        if pickup is not None and pickup.hangs and pickup.reach:
            mesh, half = tank_mesh(tank), 0.5 * (pickup.diameter or 0.0)
            rest = clunk_position(mesh, port.at, pickup.reach, DOWN, half)[0]
            room = silhouette(inset(mesh, half), axes)
            at = axes @ np.array(port.at)
            yield Reach(f"{tank.name}.{port.name}", room, at, axes @ rest, pickup.reach)


def openings(layout: Layout, survey: Survey, axes: Array) -> Iterator[tuple[str, str, Array]]:
    """Port, role and way from the wall to the opening (2, 2) [m], of tubes that end in a tank.

    A vent is among them even where it ends at the wall.
    """
    roles = {
        end: str(survey.lines[line.name].role)
        for line in layout.lines.values()
        for end in (line.from_, line.to)
    }
    for tank, port in _ports(layout):
        name = f"{tank.name}.{port.name}"
        if port.pickup is not None and port.pickup.hangs:
            continue
        opens, role = port.inner_end, roles.get(name, "loose")
        if opens != port.at or role == "vent":
            yield name, role, np.array([port.at, opens]) @ axes.T


def surfaces(axes: Array, outlines: Mapping[str, Sequence[Array]]) -> Iterator[tuple[str, Array]]:
    """Tank and ends of each level surface of its fuel, seen from the side, (2, 2) [m].

    Parameters
    ----------
    axes : Array
        The view's axes, shape (2, 3).
    outlines : mapping of str to sequence of Array
        Outlines of the surfaces in each tank, shape (N, 3) each [m].
    """
    if axes[1, 2] == 0.0:
        return
    for name, found in outlines.items():
        for outline in found:
            across, level = outline @ axes[0], float(outline[0, 2])
            yield name, np.array([[across.min(), level], [across.max(), level]])


def _ports(layout: Layout) -> Iterator[tuple[Tank, Port]]:
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            yield tank, port


def draw_reach(view: View, reach: Reach) -> str:
    """The reach of a clunk as a tinted room, its hose and the clunk at rest."""
    slug = sheet.slug("reach", reach.port)
    rings = (view.sheet(loop) for loop in reach.room)
    d = "".join("M" + "L".join(f"{num(x)} {num(y)}" for x, y in ring) + "Z" for ring in rings)
    clip = sheet.tag("clipPath", sheet.tag("path", d=d), id=slug)
    (x, y), (left, low) = view.sheet(np.stack([reach.at, reach.rest]))
    room = sheet.circle(
        x, y, 1e3 * reach.far / view.scale,
        fill=REACH, fill_opacity=0.09, stroke=REACH, stroke_width=0.3, stroke_dasharray="1 0.7",
        clip_path=f"url(#{slug})",
    )  # fmt: skip
    hose = sheet.line(x, y, left, low, stroke=REACH, stroke_width=0.3)
    end = sheet.circle(left, low, 0.8, fill=REACH)
    words = f"{clean(reach.port)}: where its clunk can reach, {show(reach.far, 'length')}"
    return sheet.group([clip, room, hose, end], title=words, class_="reach")


def draw_opening(view: View, port: str, role: str, way: Array) -> str:
    """A tube from the wall of a tank to where it opens, in the colour of its line."""
    colour, ((x, y), (left, low)) = stroke_of(role).colour, view.sheet(way)
    tube = sheet.line(x, y, left, low, stroke=colour, stroke_width=0.4)
    end = sheet.circle(left, low, 0.7, fill=PAPER, stroke=colour, stroke_width=0.4)
    words = f"{clean(port)}: where the {stroke_of(role).words} line opens inside"
    return sheet.group([tube, end], title=words, class_="opening")


def draw_surface(view: View, tank: str, ends: Array) -> str:
    """A level as a line under a small triangle, as levels are drawn."""
    (x, y), (right, _) = view.sheet(ends)
    line = sheet.line(x, y, right, y, stroke=RESERVE, stroke_width=0.3, stroke_dasharray="3 0.7")
    middle = (x + right) / 2
    mark = sheet.path(
        f"M{num(middle)} {num(y)}l-0.9 -1.5h1.8z", fill=PAPER, stroke=RESERVE, stroke_width=0.25
    )
    words = f"{clean(tank)}: level when only the reserve is left"
    return sheet.group([line, mark], title=words, class_="reserve")


def swatch(kind: str) -> str:
    """What the key shows of a kind, 7 mm wide about its middle line."""
    if kind == "reach":
        area = sheet.rect(0, -1.6, 7, 3.2, fill=REACH, fill_opacity=0.09, stroke=REACH,
            stroke_width=0.3, stroke_dasharray="1 0.7")  # fmt: skip
        return area + sheet.circle(3.5, 0.6, 0.8, fill=REACH)
    if kind == "opening":
        return sheet.circle(3.5, 0, 0.7, fill=PAPER, stroke=INK, stroke_width=0.4)
    if kind == "reserve":
        line = sheet.line(
            0, 0.7, 7, 0.7, stroke=RESERVE, stroke_width=0.3, stroke_dasharray="3 0.7"
        )
        mark = sheet.path("M3.5 0.7l-0.9 -1.5h1.8z", fill=PAPER, stroke=RESERVE, stroke_width=0.25)
        return line + mark
    return sheet.rect(0, -1.6, 7, 3.2, fill="none", stroke=INK, stroke_width=0.25,
        stroke_dasharray="0.9 0.7")  # fmt: skip
