"""Plan, side and front views to scale: tanks, lines, passages, zones, engine and CG."""

from collections.abc import Mapping, Sequence
from itertools import chain
from pathlib import PurePath
from types import MappingProxyType

from plumbing.drawing import frame, inspected, marks, painting, rulers, sheet, views
from plumbing.drawing.arranging import NAME, STRIP, Elevation, Named, place_elevation
from plumbing.drawing.boxes import Box
from plumbing.drawing.figures import mark_width
from plumbing.drawing.palette import INK, PAPER, SOFT, STROKES
from plumbing.drawing.scene import on_former
from plumbing.drawing.text import clean, width
from plumbing.drawing.views import View
from plumbing.drawing.wiring import kind_of
from plumbing.findings import Cause
from plumbing.model.engine import Engine
from plumbing.model.layout import Layout
from plumbing.model.tank import Tank
from plumbing.network import Survey
from plumbing.physics.arrays import Array


def elevation(
    layout: Layout,
    survey: Survey,
    view: str = "side",
    causes: Sequence[Cause] = (),
    *,
    surfaces: Mapping[str, Sequence[Array]] = MappingProxyType({}),
    date: str = "",
    paper: str = "a4",
) -> str:
    """Draw a plan or an elevation of a layout to scale.

    Parameters
    ----------
    layout : Layout
        The layout.
    survey : Survey
        Roles of its lines.
    view : {"plan", "side", "front"}
        Which way to look.
    causes : sequence of Cause
        Marked at the parts and explained in a legend.
    surfaces : mapping of str to sequence of Array
        Outlines of the surfaces in each tank at landing reserve, shape (N, 3) each [m]; drawn
        where given.
    date : str
        Date for the title block.
    paper : {"a4", "letter"}
        Family of papers it is fitted to.

    Returns
    -------
    str
        SVG text, one user unit to the millimetre.
    """
    placed = place_elevation(layout, view, causes, paper=paper)
    return draw_elevation(placed, layout, survey, surfaces, date)


def draw_elevation(
    placed: Elevation,
    layout: Layout,
    survey: Survey,
    surfaces: Mapping[str, Sequence[Array]],
    date: str = "",
) -> str:
    """Draw a placed view as SVG text."""
    view, room = placed.view, placed.room
    looked_for = _looked_for(view, layout, survey, surfaces)
    legend_box, key_box, title_box = frame.strip_boxes(placed.size, STRIP)
    notes = {note.number: note for note in placed.notes}
    title = frame.Title(
        layout.title,
        views.WORDS[view.name].partition(",")[0],
        PurePath(layout.place.file).name,
        date,
        (views.WORDS[view.name].partition(", ")[2], f"origin: {layout.origin.partition(';')[0]}"),
        f"scale 1:{view.scale:g}",
    )
    legend, _ = marks.draw_legend(placed.notes, legend_box)
    body = [
        painting.HATCHES,
        *frame.draw_rim(placed.size, STRIP),
        sheet.group(_picture(placed, layout, survey, looked_for), class_="view", fill=INK),
        sheet.group(rulers.draw_rulers(view, room), class_="rulers", fill=INK),
        sheet.group([_label(one, notes) for one in placed.labels], class_="labels", fill=INK),
        sheet.group(legend, class_="legend", fill=INK),
        sheet.group(_key(placed, layout, survey, set(looked_for), key_box), class_="key", fill=INK),
        sheet.group(
            frame.draw_title(title, title_box, placed.size), class_="title-block", fill=INK
        ),
    ]
    w, h = frame.SHEETS[placed.size]
    return sheet.page(w, h, body, f"{views.WORDS[view.name]}: {clean(layout.title)}")


def _looked_for(
    view: View, layout: Layout, survey: Survey, surfaces: Mapping[str, Sequence[Array]]
) -> dict[str, list[str]]:
    """What an inspector looks for in the tanks, drawn, by its kind; kinds that are not left out."""
    axes = view.axes
    drawn = {
        "reach": [inspected.draw_reach(view, one) for one in inspected.reaches(layout, axes)],
        "reserve": [
            inspected.draw_surface(view, *one) for one in inspected.surfaces(axes, surfaces)
        ],
        "opening": [
            inspected.draw_opening(view, *one) for one in inspected.openings(layout, survey, axes)
        ],
    }
    return {kind: shapes for kind, shapes in drawn.items() if shapes}


def _picture(
    placed: Elevation, layout: Layout, survey: Survey, looked_for: dict[str, list[str]]
) -> list[str]:
    view = placed.view
    band = painting.draw_cg_range(view, layout, placed.room.top, placed.room.bottom)
    cg = [painting.draw_cg(view.point(at)) for at in [layout.aircraft.dry_cg] if at]
    parts = [*band, *(painting.draw_solid(view, solid) for solid in placed.scene.solids)]
    parts += chain.from_iterable(looked_for.values())
    order = {name: number for number, name in enumerate(layout.lines, start=1)}
    for name, flat in placed.scene.runs.items():
        role = str(survey.lines[name].role)
        parts.append(painting.draw_run(view.sheet(flat), role, name, order[name]))
    for part in layout.parts():
        if isinstance(part, Engine):
            intake, exhaust = (view.point(at) if at else None for at in (part.intake, part.exhaust))
            parts.append(painting.draw_engine_axis(intake, exhaust))
        if not isinstance(part, Tank):
            marker = painting.draw_marker(view.point(part.at), kind_of(part))
            slug = sheet.slug("part", part.name)
            name = clean(part.name)
            parts.append(sheet.group([marker], title=name, id=slug, class_="part", data_part=name))
    parts += [_passage(view, at) for at in _passages(layout)]
    for name, at in placed.numbers:
        parts.append(painting.draw_number(at, order[name], str(survey.lines[name].role)))
    return parts + cg


def _passages(layout: Layout) -> list[tuple[float, float, float]]:
    return [
        on_former(former, hole.at)
        for former in layout.formers.values()
        for hole in former.passages.values()
    ]


def _passage(view: View, at: tuple[float, float, float]) -> str:
    x, y = view.point(at)
    d = f"M{x - 1.3:.2f} {y - 1.3:.2f}l2.6 2.6m0 -2.6l-2.6 2.6"
    return sheet.path(d, stroke=INK, stroke_width=0.35, class_="passage")


def _label(one: Named, notes: dict[int, Cause]) -> str:
    box = one.callout.box
    out = []
    if one.callout.leader:
        (x1, y1), (x2, y2) = one.callout.leader
        out.append(sheet.line(x1, y1, x2, y2, stroke=SOFT, stroke_width=0.2))
    out.append(
        sheet.rect(
            box.left - 0.2, box.top, box.width, box.height, rx=0.5, fill=PAPER, fill_opacity=0.8
        )
    )
    out.append(sheet.write(box.left + 0.2, box.bottom - 0.95, one.text, NAME))
    left = box.left + 0.6 + width(one.text, NAME)
    for number in one.numbers:
        out.append(marks.draw_mark(left, box.bottom - 1.75, notes[number]))
        left += mark_width(number)
    return sheet.group(out, class_="label", data_part=clean(one.name))


def _key(
    placed: Elevation, layout: Layout, survey: Survey, looked_for: set[str], box: Box
) -> list[str]:
    roles = [role for role in STROKES if any(str(u.role) == role for u in survey.lines.values())]
    shown = {solid.kind for solid in placed.scene.solids} | looked_for
    zones = [solid.note for solid in placed.scene.solids if solid.kind == "zone"]
    shown |= {"hot" if note in painting.HOT else "keep" for note in zones}
    shown |= {"cg"} if layout.aircraft.dry_cg else set()
    shown |= {"range"} if layout.aircraft.cg_limits and placed.view.name != "front" else set()
    bar = rulers.draw_scale_bar(placed.view, box.left, box.bottom - 6.0, 70.0)
    return [*painting.draw_key(roles, shown, box.left, box.top + 3.0), *bar]
