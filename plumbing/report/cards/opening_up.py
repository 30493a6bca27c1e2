"""The first flights, opened up step by step, and the fuel log. Both are common practice."""

from __future__ import annotations

from plumbing import units
from plumbing.report.cards.form import Form
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown
from plumbing.units import clock

_FLIGHTS = (
    ("1", "upright, wide circuits, no verticals", 0.5),
    ("2", "short inverted flight and verticals", 0.5),
    ("3", "the full routine", 0.75),
    ("4", "as meant to be flown", 1.0),
)
_LOG_ROWS = 24


def opening_up(flown: Flown | NotComputed) -> Form:
    """What each of the first flights adds, with the timer it is flown to."""
    rows = tuple(
        (number, words, _timer(flown, share), _burn(flown, share), "", "", "", "", "")
        for number, words, share in _FLIGHTS
    )
    steps = (
        "Full tanks. Timer as given: a share of the computed one, until the burn is measured.",
        "Land, let it cool, measure the fuel that fills it again and the air in the header.",
        "Go on only when the header stayed full and the litres agree; set the timer from the "
        "measured burn and the usable fuel, never from what the tanks hold.",
    )
    heads = (
        "flight", "flown", "timer from take-off", "burn expected", "fuel to fill again",
        "air in the header", "pump volts idle / full", "leaks, bubbles", "day, name",
    )  # fmt: skip
    return Form("Opening up", (), steps, heads, rows, _notes(flown), wide=True)


def _timer(flown: Flown | NotComputed, share: float) -> str:
    return clock(share * flown.timer) if known(flown) else ""


def _burn(flown: Flown | NotComputed, share: float) -> str:
    """Fuel of the time on the timer at the mean flow in the air."""
    return units.show(share * flown.timer * flown.mean_flow, "volume") if known(flown) else ""


def _notes(flown: Flown | NotComputed) -> tuple[str, ...]:
    if not known(flown):
        return ()
    return (
        f"Usable {units.show(flown.usable, 'volume')} of {units.show(flown.on_board, 'volume')}, "
        f"reserve {units.show(flown.reserve, 'volume')}, mean flow in the air "
        f"{units.show(flown.mean_flow, 'flow')}. Start, taxi and landing come on top of the burn.",
    )


def fuel_log() -> Form:
    """An empty log, a row a flight."""
    heads = (
        "day", "flight", "litres in", "litres left", "header air ml", "pump volts idle / full",
        "timer min", "fuel degC", "leaks, remarks",
    )  # fmt: skip
    steps = ("Written at the aircraft, not at home. The fuel that fills it again is the burn.",)
    rows = (("",) * len(heads),) * _LOG_ROWS
    return Form("Fuel log", (), steps, heads, rows)
