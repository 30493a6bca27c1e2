"""The pieces of an elevation as SVG: solids, hatches, runs, markers, centre of gravity."""

from plumbing.drawing import inspected, sheet
from plumbing.drawing.palette import INK, PAPER, RIM, stroke_of
from plumbing.drawing.scene import Solid
from plumbing.drawing.sheet import num
from plumbing.drawing.text import clean
from plumbing.drawing.views import View
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array

Point = tuple[float, float]
_KEY_ROWS = 7

HOT = {"hot", "exhaust", "disc"}
WARM, COOL = "#b3261e", "#5f6368"
_STYLES: dict[str, dict[str, sheet.Value]] = {
    "tank": {"fill": "#eef3f6", "stroke": INK, "stroke_width": 0.5},
    "header": {"fill": "#eef3f6", "stroke": INK, "stroke_width": 0.9},
    "body": {"fill": "#e4e4e0", "fill_opacity": 0.7, "stroke": RIM, "stroke_width": 0.3},
    "airframe": {"fill": "none", "stroke": RIM, "stroke_width": 0.4},
    "assumed": {
        "fill": "#e4e4e0",
        "fill_opacity": 0.35,
        "stroke": RIM,
        "stroke_width": 0.25,
        "stroke_dasharray": "0.9 0.7",
    },
    "former": {"fill": "#d8d2c6", "fill_opacity": 0.55, "stroke": RIM, "stroke_width": 0.25},
}
_TITLES = {"assumed": "body of assumed size:"}
HATCHES = (
    '<defs><pattern id="hatch-hot" width="2" height="2" patternUnits="userSpaceOnUse" '
    f'patternTransform="rotate(45)"><path d="M0 0V2" stroke="{WARM}" stroke-width="0.5"/>'
    '</pattern><pattern id="hatch-keep" width="2.6" height="2.6" '
    f'patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0V2.6" '
    f'stroke="{COOL}" stroke-width="0.4"/></pattern></defs>'
)


def loops_path(view: View, loops: list[Array], **style: sheet.Value) -> str:
    """Closed loops as one path, filled together by the non-zero rule."""
    d = "".join(
        "M" + "L".join(f"{num(x)} {num(y)}" for x, y in view.sheet(loop)) + "Z" for loop in loops
    )
    return sheet.path(d, fill_rule="nonzero", stroke_linejoin="round", **style) if d else ""


def draw_solid(view: View, solid: Solid) -> str:
    """A tank, zone, former or body of a part in a group of its own."""
    parts = []
    style: dict[str, sheet.Value]
    if solid.kind == "zone":
        hot = solid.note in HOT
        style = {
            "fill": "url(#hatch-hot)" if hot else "url(#hatch-keep)",
            "fill_opacity": 0.55,
            "stroke": WARM if hot else COOL,
            "stroke_width": 0.3,
            "stroke_dasharray": "1.6 0.8",
        }
        if solid.ends:
            parts.append(loops_path(view, solid.loops, fill=style["fill"], fill_opacity=0.55))
            style["fill"] = "none"
        parts.append(loops_path(view, solid.ends or solid.loops, **style))
    else:
        style = dict(_STYLES[solid.kind])
        if solid.kind == "former" and view.name == "front":
            style["fill_opacity"] = 0.1  # formers lie one behind the other there
        parts.append(loops_path(view, solid.loops, **style))
    return sheet.group(
        parts,
        title=f"{_TITLES.get(solid.kind, solid.kind)} {clean(solid.name)} {solid.note}".strip(),
        id=sheet.slug(solid.kind, solid.name),
        class_=solid.kind,
        data_part=clean(solid.name),
    )


def draw_run(points: list[Point], role: str, name: str, number: int) -> str:
    """A line along its route, with its bends."""
    stroke = stroke_of(role)
    d = "M" + "L".join(f"{num(x)} {num(y)}" for x, y in points)
    halo = sheet.path(d, stroke=PAPER, stroke_width=stroke.weight + 0.7, stroke_opacity=0.8)
    way = sheet.path(
        d,
        stroke=stroke.colour,
        stroke_width=stroke.weight,
        stroke_dasharray=stroke.dash,
        stroke_linejoin="round",
    )
    return sheet.group(
        [halo, way],
        title=f"line {number} {clean(name)}, {role}",
        id=sheet.slug("line", name),
        class_=f"line {role}",
        data_part=clean(name),
    )


def draw_number(at: Point, number: int, role: str) -> str:
    """Number of a line in a ring on it."""
    colour = stroke_of(role).colour
    wide = 3.9 if number < 10 else 5.2
    pill = sheet.rect(
        at[0] - wide / 2,
        at[1] - 1.95,
        wide,
        3.9,
        rx=1.95,
        fill=PAPER,
        stroke=colour,
        stroke_width=0.35,
    )
    return pill + sheet.write(at[0], at[1] + 0.95, str(number), 2.6, anchor="middle", fill=INK)


def draw_marker(at: Point, kind: str) -> str:
    """Where a small part is: a mark by kind, not its outline."""
    x, y = at
    if kind in {"outlet", "fill", "drain"}:
        return sheet.circle(x, y, 1.1, fill=PAPER, stroke=INK, stroke_width=0.45)
    if kind == "tee":
        return sheet.circle(x, y, 0.8, fill=INK)
    if kind == "engine":
        arm = sheet.path(f"M{num(x - 2)} {num(y)}h4M{num(x)} {num(y - 2)}v4", stroke=INK)
        ring = sheet.circle(x, y, 1.5, fill=PAPER, stroke=INK, stroke_width=0.45)
        return sheet.group([ring, arm], stroke_width=0.35)
    return sheet.rect(x - 1.2, y - 1.2, 2.4, 2.4, fill=PAPER, stroke=INK, stroke_width=0.45)


def draw_engine_axis(intake: Point | None, exhaust: Point | None) -> str:
    """Chain line from intake to exhaust."""
    if intake is None or exhaust is None:
        return ""
    (x1, y1), (x2, y2) = intake, exhaust
    return sheet.line(x1, y1, x2, y2, stroke=INK, stroke_width=0.3, stroke_dasharray="4 1 0.8 1")


def draw_cg_range(view: View, layout: Layout, top: float, bottom: float) -> list[str]:
    """Permitted range of the centre of gravity as a band between two heights [mm]."""
    limits = layout.aircraft.cg_limits
    if not limits or view.name == "front":
        return []
    fore, aft = (view.point((x, 0.0, 0.0))[0] for x in limits)
    green = "#2e7d32"
    parts = [sheet.rect(fore, top, aft - fore, bottom - top, fill=green, fill_opacity=0.09)]
    for x in (fore, aft):
        edge = sheet.line(x, top, x, bottom, stroke=green, stroke_width=0.3)
        parts.append(edge)
    return [sheet.group(parts, title="permitted range of the CG", class_="cg")]


def draw_cg(at: Point) -> str:
    """Dry centre of gravity: a quartered disc, two quarters filled."""
    x, y, r = at[0], at[1], 2.2
    disc = sheet.circle(x, y, r, fill=PAPER, stroke=INK, stroke_width=0.4)
    d = (
        f"M{num(x)} {num(y)}V{num(y - r)}A{r} {r} 0 0 1 {num(x + r)} {num(y)}Z"
        f"M{num(x)} {num(y)}V{num(y + r)}A{r} {r} 0 0 1 {num(x - r)} {num(y)}Z"
    )
    return sheet.group([disc, sheet.path(d, fill=INK)], title="dry CG", class_="cg")


def draw_key(roles: list[str], kinds: set[str], x: float, y: float) -> list[str]:
    """Key of an elevation, in columns."""
    swatches = [
        ("tank", "tank", "eef3f6", INK),
        ("header", "header tank", "eef3f6", INK),
        ("former", "former, rib", "d8d2c6", RIM),
    ]
    rows: list[tuple[str, str]] = []
    for kind, words, fill, edge in swatches:
        if kind in kinds:
            weight = 0.9 if kind == "header" else 0.45
            swatch = sheet.rect(0, -1.6, 7, 3.2, fill=f"#{fill}", stroke=edge, stroke_width=weight)
            rows.append((swatch, words))
    if "hot" in kinds:
        rows.append((_zone_swatch("url(#hatch-hot)", WARM), "hot zone, disc"))
    if "keep" in kinds:
        rows.append((_zone_swatch("url(#hatch-keep)", COOL), "keep clear"))
    if "cg" in kinds:
        rows.append((draw_cg((3.5, 0.0)), "dry CG"))
    if "range" in kinds:
        rows.append((sheet.rect(0, -1.6, 7, 3.2, fill="#2e7d32", fill_opacity=0.2), "CG range"))
    rows += [
        (inspected.swatch(kind), words) for kind, words in inspected.WORDS.items() if kind in kinds
    ]
    for role in roles:
        stroke = stroke_of(role)
        bar = sheet.line(
            0, 0, 7, 0, stroke=stroke.colour, stroke_width=stroke.weight,
            stroke_dasharray=stroke.dash,
        )  # fmt: skip
        rows.append((bar, stroke.words))
    out = [sheet.write(x, y, "Key", 2.6, bold=True)]
    columns = 2 if len(rows) <= 2 * _KEY_ROWS else 3
    for place, (shape, words) in enumerate(rows):
        column, row = divmod(place, _KEY_ROWS)
        left, middle = x + column * 88 / columns, y + 4.0 + row * 4.4
        move = f"translate({num(left)} {num(middle)})"
        out.append(sheet.group([shape], transform=move))
        out.append(sheet.write(left + 9, middle + 0.9, words, 2.6, fill=INK))
    return out


def _zone_swatch(fill: str, edge: str) -> str:
    return sheet.rect(0, -1.6, 7, 3.2, fill=fill, stroke=edge, stroke_width=0.3)


__all__ = [
    "HATCHES",
    "draw_cg",
    "draw_cg_range",
    "draw_engine_axis",
    "draw_key",
    "draw_marker",
    "draw_number",
    "draw_run",
    "draw_solid",
]
