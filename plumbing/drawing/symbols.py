"""Symbols of the small parts, after ISO 1219-1, ISO 14617 and ISO 10628-2.

Each is drawn in a square of 8 mm about (0, 0) with the flow going right; the caller turns it.
"""

from collections.abc import Callable

from plumbing.drawing import sheet
from plumbing.drawing.palette import INK, PAPER
from plumbing.model.layout import Part
from plumbing.model.parts import Connector, FillPort, Outlet, Valve

HALF = 4.0
TURNS = {"right": 0, "down": 90, "left": 180, "up": 270}
_THIN: dict[str, sheet.Value] = {"stroke": INK, "stroke_width": 0.4, "stroke_linejoin": "round"}
_BODY: dict[str, sheet.Value] = {**_THIN, "fill": PAPER}
_SOLID: dict[str, sheet.Value] = {**_THIN, "fill": INK}


def symbol(kind: str, part: Part | None = None) -> list[str]:
    """Shapes of a symbol about (0, 0), flow to the right.

    Parameters
    ----------
    kind : str
        As from `wiring.kind_of`.
    part : Part or None
        The part, for what its data change (closed valve, plugged outlet).
    """
    return _SYMBOLS[kind](part)


def _lead(left: float, right: float) -> list[str]:
    return [
        sheet.line(-HALF, 0, left, 0, **_THIN),
        sheet.line(right, 0, HALF, 0, **_THIN),
    ]


def _pump(_: Part | None) -> list[str]:
    return [
        sheet.circle(0, 0, HALF, **_BODY),
        sheet.polygon([(-0.7, -2.4), (-0.7, 2.4), (HALF, 0)], **_SOLID),
    ]


def _filter(_: Part | None) -> list[str]:
    return [
        sheet.polygon([(-HALF, 0), (0, -HALF), (HALF, 0), (0, HALF)], **_BODY),
        sheet.line(0, -HALF, 0, HALF, stroke=INK, stroke_width=0.4, stroke_dasharray="1.1 0.7"),
    ]


def _bow_tie(part: Part | None) -> list[str]:
    closed = isinstance(part, Valve) and part.flight == "closed"
    style = _SOLID if closed else _BODY
    left = sheet.polygon([(-3.4, -2.2), (-3.4, 2.2), (0, 0)], **style)
    right = sheet.polygon([(3.4, -2.2), (3.4, 2.2), (0, 0)], **style)
    return [*_lead(-3.4, 3.4), left, right]


def _valve(part: Part | None) -> list[str]:
    lever = [sheet.line(0, 0, 0, -3.2, **_THIN), sheet.line(-1.5, -3.2, 1.5, -3.2, **_THIN)]
    return [*lever, *_bow_tie(part)]


def _electric(part: Part | None) -> list[str]:
    coil = [
        sheet.line(0, 0, 0, -1.9, **_THIN),
        sheet.rect(-1.8, -4.0, 3.6, 2.1, **_BODY),
        sheet.line(-1.8, -1.9, 1.8, -4.0, **_THIN),
    ]
    return [*coil, *_bow_tie(part)]


def _check(_: Part | None) -> list[str]:
    seat = sheet.path("M0.9 -2.4L-1.9 0L0.9 2.4", **_THIN)
    return [
        *_lead(-1.9, 1.9),
        seat,
        sheet.circle(0.45, 0, 1.45, **_BODY),
        sheet.line(1.9, -1.5, 1.9, 1.5, **_THIN),
    ]


def _outlet(part: Part | None) -> list[str]:
    shut = isinstance(part, Outlet) and part.plug is not None and part.plug.fitted_in_flight
    mouth = sheet.polygon([(-0.6, -2.0), (-0.6, 2.0), (3.0, 0)], **_BODY)
    out = [sheet.line(-HALF, 0, -0.6, 0, **_THIN), mouth]
    if shut:
        out.append(sheet.line(3.5, -2.0, 3.5, 2.0, stroke=INK, stroke_width=0.9))
    return out


def _fill(part: Part | None) -> list[str]:
    out = [
        sheet.line(HALF, 0, 1.8, 0, **_THIN),
        sheet.path("M-2.2 -2.4H-1.2A2.4 2.4 0 0 1 -1.2 2.4H-2.2", **_BODY),
        sheet.polygon([(-1.0, -1.3), (-1.0, 1.3), (1.0, 0)], **_SOLID),
    ]
    if isinstance(part, FillPort) and part.cap:
        out.append(sheet.line(-3.3, -2.2, -3.3, 2.2, stroke=INK, stroke_width=0.8))
    return out


def _drain(_: Part | None) -> list[str]:
    return [
        sheet.line(-HALF, 0, -0.8, 0, **_THIN),
        sheet.path("M-0.8 -2.2V2.2", stroke=INK, stroke_width=0.9),
        sheet.path("M0.9 0C2.1 -1.5 3.4 -1.3 3.4 0S2.1 1.5 0.9 0Z", **_BODY),
    ]


def _connector(part: Part | None) -> list[str]:
    out = [
        *_lead(-1.5, 1.5),
        sheet.path("M-2.8 -2.4L-0.5 0L-2.8 2.4", **_THIN),
        sheet.path("M2.8 -2.4L0.5 0L2.8 2.4", **_THIN),
        sheet.line(0, -3.0, 0, 3.0, stroke=INK, stroke_width=0.25, stroke_dasharray="0.9 0.6"),
    ]
    if isinstance(part, Connector) and part.self_closing:
        out += [sheet.circle(-2.1, 0, 0.75, **_BODY), sheet.circle(2.1, 0, 0.75, **_BODY)]
    return out


def _tee(_: Part | None) -> list[str]:
    return [sheet.circle(0, 0, 0.95, fill=INK)]


def _engine(_: Part | None) -> list[str]:
    """A turbine seen from the side: compressor, combustion chamber, turbine, nozzle."""
    return [
        sheet.rect(-8, -6, 16, 12, rx=1.2, **_BODY),
        sheet.polygon([(-6, -4), (-6, 4), (-1.8, 1.7), (-1.8, -1.7)], **_SOLID),
        sheet.rect(-1.8, -2.6, 3.6, 5.2, **_BODY),
        sheet.polygon([(1.8, -1.7), (1.8, 1.7), (4.4, 3.2), (4.4, -3.2)], **_SOLID),
        sheet.path("M4.4 -2.6L7 -1.6M4.4 2.6L7 1.6", **_THIN),
    ]


_SYMBOLS: dict[str, Callable[[Part | None], list[str]]] = {
    "pump": _pump,
    "filter": _filter,
    "valve": _valve,
    "electric": _electric,
    "check": _check,
    "outlet": _outlet,
    "fill": _fill,
    "drain": _drain,
    "connector": _connector,
    "tee": _tee,
    "engine": _engine,
}
