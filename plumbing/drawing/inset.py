"""Drawings to stand in a page: without rim, legend and title block, cropped to what they show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from plumbing.drawing import diagram, elevations, views
from plumbing.drawing.arranging import Elevation, place_elevation
from plumbing.drawing.boxes import Box, around
from plumbing.drawing.sheet import num
from plumbing.findings import Cause
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_SVG = "http://www.w3.org/2000/svg"
_KEPT = ("diagram", "view", "rulers", "labels")
_AIR = 4.0  # around the schematic [mm]
_MARGIN = 6.0  # around the parts of a view [mm]
_RULER = 13.0  # room for the upright ruler's numbers [mm]


def schematic_inset(layout: Layout, survey: Survey, causes: Sequence[Cause], prefix: str) -> str:
    """Schematic alone, ids prefixed, marks linked to `#finding-N`.

    Parameters
    ----------
    layout, survey, causes
        As for `schematic`.
    prefix : str
        Set before every id, so that several drawings can stand in one page.
    """
    placed = diagram.place(layout, survey, causes)
    boxes = [box for _, box in (*placed.symbols(), *placed.texts())]
    boxes += [Box(x, y, x, y) for _, points in placed.lines() for x, y in points]
    shown = around(boxes or [placed.field()]).grown(_AIR)
    return _inset(diagram.draw(placed, layout), shown, prefix, f"Schematic of {layout.title}")


def elevation_inset(
    layout: Layout,
    survey: Survey,
    view: str,
    causes: Sequence[Cause],
    surfaces: Mapping[str, Sequence[Array]],
    prefix: str,
) -> str:
    """Plan or elevation alone, with how aircraft axes lie on it in data attributes."""
    placed = place_elevation(layout, view, causes)
    room = _room(placed)
    placed = replace(placed, room=room)
    shown = Box(room.left - _RULER, room.top - 1.0, room.right + 1.0, room.bottom + 6.0)
    seen = placed.view
    axes = {
        "data-view": view,
        "data-scale": num(seen.scale),
        "data-left": f"{seen.left:.6g}",
        "data-top": f"{seen.top:.6g}",
        "data-low": f"{seen.low:.6g}",
        "data-high": f"{seen.high:.6g}",
    }
    words = f"{views.WORDS[view]}: {layout.title}"
    drawn = elevations.draw_elevation(placed, layout, survey, surfaces)
    return _inset(drawn, shown, prefix, words[0].upper() + words[1:], axes)


def _room(placed: Elevation) -> Box:
    """As much of the room within the rulers as the view fills [mm]."""
    seen, room = placed.view, placed.room
    loops = [loop for solid in placed.scene.solids for loop in solid.loops]
    ways = [seen.sheet(flat) for flat in (*loops, *placed.scene.runs.values())]
    boxes = [Box(x, y, x, y) for points in ways for x, y in points]
    full = around([*(one.callout.box for one in placed.labels), *boxes] or [room]).grown(_MARGIN)
    return Box(
        max(full.left, room.left),
        max(full.top, room.top),
        min(full.right, room.right),
        min(full.bottom, room.bottom),
    )


def _inset(
    svg: str, shown: Box, prefix: str, title: str, attributes: dict[str, str] | None = None
) -> str:
    from xml.etree import ElementTree

    ElementTree.register_namespace("", _SVG)
    root = ElementTree.fromstring(svg)
    for child in list(root):
        kind = child.get("class", "")
        if not (child.tag.endswith("}defs") or kind in _KEPT):
            root.remove(child)
    _prefixed(root, prefix)
    _linked(root)
    for name in ("width", "height", "role"):
        root.attrib.pop(name, None)
    corner = f"{num(shown.left)} {num(shown.top)} {num(shown.width)} {num(shown.height)}"
    root.set("viewBox", corner)
    root.set("role", "group")
    root.set("aria-label", title)
    root.set("data-width", num(shown.width))
    for name, value in (attributes or {}).items():
        root.set(name, value)
    return ElementTree.tostring(root, encoding="unicode")


def _prefixed(root: Element, prefix: str) -> None:
    """Set a prefix before every id and every reference to one."""
    for element in root.iter():
        for name, value in element.attrib.items():
            if name == "id":
                element.set(name, prefix + value)
            elif value.startswith("url(#"):
                element.set(name, f"url(#{prefix}{value[5:]}")


def _linked(root: Element) -> None:
    """Make every mark a link to its finding."""
    from xml.etree.ElementTree import Element

    for parent in list(root.iter()):
        for place, child in enumerate(list(parent)):
            number = child.get("data-finding")
            if number and child.get("class", "").startswith("mark "):
                words = f"Finding {number}"
                link = Element(
                    f"{{{_SVG}}}a",
                    {"href": f"#finding-{number}", "tabindex": "-1", "aria-label": words},
                )
                parent[place] = link
                link.append(child)
