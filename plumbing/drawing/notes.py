"""What is noted beside the symbol of a part: height, thrust, pore, open or closed."""

from collections.abc import Callable

from plumbing.drawing.wiring import kind_of, plugged
from plumbing.model.layout import Part
from plumbing.model.parts import Filter, Outlet, Valve
from plumbing.units import show


def notes_of(part: Part) -> list[str]:
    """Rows of notes on a part; none for most kinds."""
    maker = _NOTES.get(kind_of(part))
    return maker(part) if maker else []


def _height(part: Part) -> str:
    return f"z {round(part.at[2] * 1e3)}" if not hasattr(part, "shape") else ""


def _engine_notes(part: Part) -> list[str]:
    thrust = getattr(part, "thrust", None)
    return [*([show(thrust, "force")] if thrust else []), _height(part)]


def _valve_notes(part: Part) -> list[str]:
    closed = isinstance(part, Valve) and part.kind != "check" and part.flight == "closed"
    return ["closed"] if closed else []


def _filter_notes(part: Part) -> list[str]:
    if isinstance(part, Filter) and part.pore:
        return [f"{part.pore * 1e6:.3g} µm"]
    return []


def _outlet_notes(part: Part) -> list[str]:
    return ["plugged" if isinstance(part, Outlet) and plugged(part) else "open"]


_NOTES: dict[str, Callable[[Part], list[str]]] = {
    "engine": _engine_notes,
    "pump": lambda part: [_height(part)],
    "valve": _valve_notes,
    "electric": _valve_notes,
    "filter": _filter_notes,
    "outlet": _outlet_notes,
    "drain": lambda _: ["closed"],
}
