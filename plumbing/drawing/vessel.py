"""Tanks: a vessel with dished ends, its pickups inside, ports where their lines leave."""

from plumbing.drawing import sheet
from plumbing.drawing.boxes import Box
from plumbing.drawing.figures import NAME, SMALL, Figure, Spot, write_below
from plumbing.drawing.palette import FUEL, INK, PAPER
from plumbing.drawing.text import clean, wrap
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Pickup, Port, Tank
from plumbing.units import show

WIDE = {"tank": 24.0, "header": 16.0}
LOW = 16.0  # least height of the vessel [mm]
PITCH = 4.0  # between ports on one side [mm]
HEAD = 2.0  # room kept above ports in the roof, so that nothing shuts them in [mm]
DISH = 2.0  # height of the dished ends [mm]
LEVEL = 0.3  # depth of the level shown, from the top


def tank_figure(
    key: str,
    tank: Tank,
    sides: dict[str, str],
    turn: int | None,
    stays: bool,
    marks: list[int],
) -> Figure:
    """A tank with its ports on the sides asked for, and its data below.

    Parameters
    ----------
    key : str
        Name in the graph that is placed.
    tank : Tank
        The tank.
    sides : dict of str to str
        left, right or top for each port.
    turn : int or None
        Its turn in the feed order, from 1.
    stays : bool
        Whether its fuel is stranded.
    marks : list of int
        Numbers of findings.
    """
    kind = "header" if tank.role == "header" else "tank"
    w = WIDE[kind]
    flanks = {side: _on_side(tank, sides, side) for side in ("left", "right")}
    h = max(LOW, PITCH * (max(len(names) for names in flanks.values()) + 1))
    texts = [(row, NAME, True) for row in wrap(clean(tank.name), w + 4, NAME, 2, bold=True)]
    texts += [(note, SMALL, False) for note in _notes(tank)]
    texts += [("fuel stays", SMALL, True)] if stays else []
    total = w + 4 if kind == "tank" else w + 8
    left = (total - w) / 2
    tops = [name for name in tank.ports if sides[name] == "top"]
    if len(tops) * 6 > w:
        w_more = len(tops) * 8.0 - w
        w, total = w + w_more, total + w_more
    head = HEAD if tops else 0.0
    ports = {name: Spot(left + x, head, "top") for name, x in _spread(tops, w)}
    for side, names in flanks.items():
        x = left if side == "left" else left + w
        first = _first_row(len(names), h)
        for place, name in enumerate(names):
            ports[name] = Spot(x, head + first + place * PITCH, side)
    box = Box(left, head, left + w, head + h)
    figure = Figure(key, tank.name, kind, tank, box, total, head + h, ports)
    figure.turn = str(turn) if turn else ""
    write_below(figure, texts, marks, total / 2, "middle")
    return figure


def _on_side(tank: Tank, sides: dict[str, str], side: str) -> list[str]:
    names = [name for name in tank.ports if sides[name] == side]
    return sorted(names, key=lambda name: -tank.ports[name].at[2])


def _first_row(count: int, h: float) -> float:
    span = (count - 1) * PITCH
    return round((h - span) / 4) * 2.0


def _spread(names: list[str], w: float) -> list[tuple[str, float]]:
    pitch = 8.0 if len(names) * 8.0 <= w else 6.0
    first = round((w - (len(names) - 1) * pitch) / 4) * 2.0
    return [(name, first + place * pitch) for place, name in enumerate(names)]


def _notes(tank: Tank) -> list[str]:
    mesh = tank_mesh(tank)
    capacity = tank.capacity or mesh.volume * (1.0 - tank.displaced)
    low, high = mesh.bounds[:, 2]
    notes = [f"{capacity * 1e3:.3g} L" if capacity >= 1e-3 else show(capacity, "volume")]
    notes.append(f"z {round(low * 1e3)} to {round(high * 1e3)}")
    return notes


def draw_tank(figure: Figure, vented: bool, used: frozenset[str]) -> list[str]:
    """Draw a tank, a bag dashed; its group is already moved to the figure's corner."""
    tank = figure.item
    assert isinstance(tank, Tank)
    box = figure.symbol
    out = [_shell(box, PAPER, 0.0), _fuel(box)]
    top = [spot.x for name, spot in figure.ports.items() if spot.side == "top" and name in used]
    out.append(_shell(box, "none", 0.55, "2.2 1" if tank.is_bag else None))
    if figure.kind == "header":
        out.append(_shell(box.grown(-1.0), "none", 0.25))
    if vented and top:
        for x in top:
            y = _dome(box, x)
            out.append(sheet.line(x - 1.1, y, x + 1.1, y, stroke=PAPER, stroke_width=1.0))
    steps = {"left": 0, "right": 0, "top": 0}
    for name, spot in figure.ports.items():
        out += _port(tank.ports[name], spot, box, steps[spot.side], name in used)
        steps[spot.side] += 1
    if figure.turn:
        out += _badge(figure, box)
    return out


def _badge(figure: Figure, box: Box) -> list[str]:
    x, y = (box.left + box.right) / 2 - 1.0, (box.top + box.bottom) / 2
    size = 3.6 if len(figure.turn) < 2 else 3.0
    ring = sheet.circle(x, y, 2.7, fill=PAPER, stroke=INK, stroke_width=0.35)
    return [ring, sheet.write(x, y + 0.36 * size, figure.turn, size, bold=True, anchor="middle")]


def _shell(box: Box, fill: str, stroke: float, dash: str | None = None) -> str:
    left, top, right, bottom = box.left, box.top, box.right, box.bottom
    bow = DISH * 1.0
    d = (
        f"M{left} {top + bow}C{left} {top} {right} {top} {right} {top + bow}"
        f"V{bottom - bow}C{right} {bottom} {left} {bottom} {left} {bottom - bow}Z"
    )
    ink, wide = INK if stroke else None, stroke or None
    return sheet.path(d, fill=fill, stroke=ink, stroke_width=wide, stroke_dasharray=dash)


def _dome(box: Box, x: float) -> float:
    """Height of the upper dished end above x: the same cubic as `_shell` draws."""
    low, high = 0.0, 1.0
    for _ in range(20):
        t = (low + high) / 2
        at = box.left + (box.right - box.left) * (3 * (1 - t) * t * t + t**3)
        low, high = (t, high) if at < x else (low, t)
    return box.top + DISH * ((1 - t) ** 3 + t**3)


def _fuel(box: Box) -> str:
    level = box.top + DISH + (box.height - 2 * DISH) * LEVEL
    left, right, bottom = box.left, box.right, box.bottom - DISH
    low = bottom + DISH
    d = f"M{left} {level}H{right}V{bottom}C{right} {low} {left} {low} {left} {bottom}Z"
    parts = [sheet.path(d, fill=FUEL)]
    parts.append(sheet.line(left, level, right, level, stroke=INK, stroke_width=0.25))
    y, shift, dashes = level + 1.4, 0, []
    while y < bottom + 0.4:
        x = left + 1.6 + 2.4 * (shift % 2)
        while x + 1.8 < right - 1.0:
            dashes.append(f"M{sheet.num(x)} {sheet.num(y)}h1.8")
            x += 4.8
        y, shift = y + 1.7, shift + 1
    parts.append(sheet.path("".join(dashes), stroke="#6f8ea3", stroke_width=0.2))
    corners = f"{sheet.num(left)} {sheet.num(box.top)} {sheet.num(right)} {sheet.num(box.bottom)}"
    return sheet.group(parts, class_="fuel", data_box=corners)


def _port(port: Port, spot: Spot, box: Box, step: int, used: bool) -> list[str]:
    """Tube through the wall with what is on its inner end, and a cap or an open end outside."""
    out = []
    inward = {"left": 1.0, "right": -1.0, "top": 0.0}[spot.side]
    wall = _dome(box, spot.x) if spot.side == "top" else spot.y
    if spot.side == "top":
        stub = wall - (spot.y if used else spot.y - 1.2)
        out.append(sheet.line(spot.x, wall - stub, spot.x, wall + 2.0, **_TUBE))
        if not used:
            out.append(_end(spot.x, wall - stub, port.capped, along="x"))
        tip = (spot.x, wall + 2.0)
    else:
        if not used:
            out.append(sheet.line(spot.x - inward * 1.2, spot.y, spot.x, spot.y, **_TUBE))
            out.append(_end(spot.x - inward * 1.2, spot.y, port.capped, along="y"))
        reach = 2.4 + 2.2 * step
        tip = (spot.x + inward * reach, spot.y)
        out.append(sheet.line(spot.x, spot.y, tip[0], tip[1], **_TUBE))
    if port.pickup is not None:
        out += _pickup(port.pickup, tip, box, inward or -1.0)
    elif spot.side != "top":
        low = port.opens_at is not None and port.opens_at[2] < port.at[2] - 0.01
        foot = box.bottom - 3.4 if low else min(tip[1] + 1.6, box.bottom - 3.4)
        out.append(sheet.line(tip[0], tip[1], tip[0], foot, **_TUBE))
    return out


_TUBE: dict[str, sheet.Value] = {"stroke": INK, "stroke_width": 0.45, "stroke_linecap": "round"}


def _end(x: float, y: float, capped: bool, along: str) -> str:
    dx, dy = (1.1, 0.0) if along == "x" else (0.0, 1.1)
    if capped:
        return sheet.line(x - dx, y - dy, x + dx, y + dy, stroke=INK, stroke_width=0.6)
    return sheet.circle(x, y, 0.6, fill=PAPER, stroke=INK, stroke_width=0.3)


def _pickup(pickup: Pickup, tip: tuple[float, float], box: Box, inward: float) -> list[str]:
    x, y = tip
    foot = box.bottom - 2.6
    if pickup.kind == "fixed":
        return [
            sheet.line(x, y, x, foot, **_TUBE),
            sheet.line(x - 0.9, foot + 0.5, x + 0.9, foot - 0.5, stroke=INK, stroke_width=0.3),
        ]
    bend = 2.2 * inward
    if pickup.kind == "clunk":
        end = foot - 0.6
        d = f"M{x} {y}C{x + bend} {y} {x - bend} {end} {x + bend} {end}"
        left = min(x + bend, x + bend + 2.2 * inward)
        weight = sheet.rect(left, end - 0.9, 2.2, 1.8, rx=0.7, fill=INK)
        return [sheet.path(d, **_TUBE), weight]
    top = max(y + 0.8, foot - 4.4)
    body = sheet.rect(
        x - 1.2,
        top,
        2.4,
        foot + 0.6 - top,
        rx=1.2,
        fill=PAPER,
        stroke=INK,
        stroke_width=0.4,
        stroke_dasharray="0.7 0.5",
    )
    return [sheet.line(x, y, x, top, **_TUBE), body]


INNER = ("fixed", "clunk", "fine-pore", "capped", "left-open")


def inner_symbol(kind: str) -> list[str]:
    """What stands in and on tanks, for the key, about (0, 0)."""
    if kind in {"capped", "left-open"}:
        return [sheet.line(0, -1.4, 0, 2.0, **_TUBE), _end(0, -1.4, kind == "capped", along="x")]
    pickup = Pickup(kind=kind)  # type: ignore[arg-type]
    box = Box(-3.0, -3.0, 3.0, 4.2)
    out = [sheet.line(0, -2.0, 3.0, -2.0, **_TUBE)]
    return [*out, *_pickup(pickup, (0.0, -2.0), box, -1.0)]


def inner_kinds(tank: Tank, used: frozenset[str]) -> set[str]:
    """Kinds of `INNER` that a tank shows."""
    kinds = {str(port.pickup.kind) for port in tank.ports.values() if port.pickup}
    idle = [port for name, port in tank.ports.items() if name not in used]
    return kinds | {"capped" if port.capped else "left-open" for port in idle}
