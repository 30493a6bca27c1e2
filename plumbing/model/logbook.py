"""The logbook: a row a flight, run or test, or for what was renewed, and the fuel between them."""

from collections.abc import Sequence
from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Written
from plumbing.model.fields import Share, Temperature, Time, Voltage, Volume

Happened = Literal["flight", "run", "test", "care"]


@frozen(kw_only=True)
class Entry(Written):
    """One row of the logbook."""

    date: Annotated[str, "day, as 2026-05-01"]
    kind: Annotated[Happened, "flight, run on the ground, test, or care of a part"]
    part: Annotated[str | None, "pump or header that was read; for care, what was renewed"] = None
    filled: Annotated[Volume | None, "fuel put in before it"] = None
    left: Annotated[Volume | None, "fuel left on board after it"] = None
    header_air: Annotated[Volume | None, "air in the header after it"] = None
    volts: Annotated[Voltage | None, "pump voltage at full throttle"] = None
    duty: Annotated[Share | None, "pump duty at full throttle"] = None
    time: Annotated[Time | None, "time in the air, or of running"] = None
    temperature: Annotated[Temperature | None, "fuel temperature"] = None
    by: Annotated[str | None, "who writes it"] = None
    remarks: Annotated[str | None, "anything worth saying"] = None


def on_board(entries: Sequence[Entry]) -> tuple[float | None, ...]:
    """Fuel on board when each row begins [m3]; None where the rows before do not tell it.

    The tanks are taken to be empty before the first row.
    """
    found: list[float | None] = []
    held: float | None = 0.0
    for one in entries:
        held = None if held is None else held + (one.filled or 0.0)
        found.append(held)
        if one.left is not None:
            held = one.left
        elif one.kind in ("flight", "run"):
            held = None
    return tuple(found)


def burnt(entries: Sequence[Entry]) -> tuple[float | None, ...]:
    """Fuel burnt in each row [m3]; None where the rows do not tell it.

    It is what was on board less what was left. Where nothing is said of what was left, it is the
    fuel that filled the tanks again before the next row with fuel.
    """
    found: list[float | None] = []
    for number, (one, held) in enumerate(zip(entries, on_board(entries), strict=True)):
        if one.kind not in ("flight", "run"):
            found.append(None)
        elif one.left is not None:
            found.append(None if held is None else held - one.left)
        else:
            later = (other.filled for other in entries[number + 1 :])
            found.append(next((fuel for fuel in later if fuel is not None), None))
    return tuple(found)
