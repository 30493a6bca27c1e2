"""One thing broken at a time, as a table."""

from __future__ import annotations

from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.report.sheets.missing import missing
from plumbing.results import NotComputed
from plumbing.studies.fault_result import Faults, Outcome
from plumbing.units import clock

_COLUMNS = (
    Column("what is broken"),
    Column("severity"),
    Column("what it does"),
    Column("engine stops after", "s"),
    Column("in the phase"),
    Column("highest suction", "kPa", 1),
    Column("left on board", "ml"),
    Column("noticed before flight"),
)


def broken_sheets(faults: Faults | NotComputed) -> list[Table]:
    """Fault sheet, or why there is none."""
    return missing([faults]) if isinstance(faults, NotComputed) else [broken(faults)]


def broken(faults: Faults) -> Table:
    """Fault sheet: those that are felt, worst first; the others are counted."""
    rows: list[tuple[Cell, ...]] = [_row(one) for one in faults.outcomes if one.severity]
    unfelt = [one.fault.what for one in faults.outcomes if one.severity is None]
    assumed = " (assumed)" if faults.assumed else ""
    notes = [
        f"The flight {faults.flight}{assumed}, {clock(faults.duration)}, flown again with every "
        "single fault that can be thought of, one at a time."
    ]
    notes += [f"Not computed: {missing.why.reason}." for missing in faults.unknown]
    if unfelt:
        notes.append(f"Not felt in this flight: {'; '.join(unfelt)}.")
    notes += [
        f"Without any fault {pump} already runs dry after {clock(when)}."
        for pump, when in faults.nominal_stops.items()
    ]
    title = f"Every single fault in the flight {faults.flight}"
    return Table("faults", title, _COLUMNS, tuple(rows), tuple(notes))


def _row(one: Outcome) -> tuple[Cell, ...]:
    suction = max(one.suction.values(), default=0.0)  # none where the way is closed
    return (
        one.fault.what,
        str(one.severity),
        one.does,
        one.first_stop,
        one.phase,
        suction / 1e3 if suction > 0.0 else None,
        one.stranded * 1e6 if one.stops else None,
        one.fault.noticed,
    )
