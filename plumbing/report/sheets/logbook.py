"""The logbook as tables: burn with timer and reserve, drift, what is due, the rows."""

from __future__ import annotations

from plumbing import units
from plumbing.model.logbook import burnt
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.report.words import counted, figure
from plumbing.results import NotComputed
from plumbing.studies.logbook import Burn, Due, Logged, Trend
from plumbing.units import clock

MOST_ROWS = 60  # the last ones; the file has them all
_HOUR = 3600.0
_ROWS = (
    Column("day"),
    Column("kind"),
    Column("part"),
    Column("burnt", "ml"),
    Column("time", "min", 1),
    Column("flow", "ml/min", 1),
    Column("header air", "ml", 1),
    Column("pump", "V", 2),
    Column("pump", "%"),
    Column("fuel", "degC", 1),
    Column("remarks"),
)


def logbook_sheets(found: Logged | NotComputed) -> list[Table]:
    """Tables of a logbook; none where there is no logbook."""
    if isinstance(found, NotComputed):
        return []
    return [_burn(found), *([_drift(found)] if found.trends else []), _due(found), _rows(found)]


def burn_rows(found: Burn) -> list[tuple[str, str]]:
    """What the flights burnt and what follows, as name and value."""
    low, high = found.timer.band
    return [
        ("mean flow in the air", f"{figure(found.flow)}, of {counted(found.flights, 'flight')}"),
        ("predicted", units.show(found.predicted, "flow")),
        ("timer by that flow", f"{clock(found.timer.value)} ({clock(low)} to {clock(high)})"),
        ("timer to set", clock(found.to_set)),
        ("timer in use", clock(found.in_use)),
        ("usable fuel left with it", figure(found.left)),
        ("reserve", units.show(found.reserve, "volume")),
    ]


BURN_NOTE = (
    "Band of the mean: 95 %. Low timer and least fuel left: 19 of 20 flights do better, by "
    "Student's t distribution. Fuel for start and taxiing is counted as burnt in the air."
)


def _burn(found: Logged) -> Table:
    columns = (Column("what"), Column("value"))
    if isinstance(found.burn, NotComputed):
        why: tuple[tuple[Cell, ...], ...] = (("not computed", found.burn.reason),)
        return Table("logbook-burn", "Timer and reserve as flown", columns, why)
    rows = tuple(burn_rows(found.burn))
    return Table("logbook-burn", "Timer and reserve as flown", columns, rows, (BURN_NOTE,))


def _drift(found: Logged) -> Table:
    columns = (
        Column("reading"),
        Column("part"),
        Column("since"),
        Column("readings"),
        Column("trend"),
        Column("now"),
        Column("limit"),
        Column("limit reached"),
    )
    notes = (
        "Trend: line of least squares over the hours run, with the 95 % band of its slope. Pump: "
        "a tenth more or less than when the trend began is a filter, air or a leak.",
    )
    rows = tuple(drift_row(one) for one in found.trends)
    return Table("logbook-drift", "Drift", columns, rows, notes)


def drift_row(one: Trend) -> tuple[str, ...]:
    """A trend as texts: reading, part, since, readings, trend, now, limit, when it is reached."""
    limits = [units.show(limit, one.kind) for limit in (one.least, one.most) if limit is not None]
    left = one.hours_left
    reached = "BEYOND" if one.beyond else "" if left is None else f"in {left:.2g} h"
    return (
        one.what,
        one.part,
        one.since,
        str(len(one.values)),
        slope_of(one),
        figure(one.now),
        " to ".join(limits),
        reached,
    )


def slope_of(one: Trend) -> str:
    """Slope of a trend with its band, in words."""
    if one.line is None:
        return "three readings needed"
    slope, band = (units.show(value, one.kind, 2) for value in (one.line.slope, one.line.band))
    word = "" if one.line.certain else ", not certain"
    return f"{slope} +- {band} an hour{word}"


def due_row(one: Due) -> tuple[str, ...]:
    """A job as texts: part, job, done, due on, hours, fuel, state."""
    hours, fuel = f"{one.time / _HOUR:.1f} h", units.show(one.fuel, "volume", 2)
    if one.use is not None:
        hours += f" of {one.use.time / _HOUR:.0f} h"
        fuel += f" of {units.show(one.use.fuel, 'volume', 2)}"
    done = one.done if one.logged else "not logged"
    return one.job.part, one.job.what, done, one.on, hours, fuel, "OVERDUE" if one.overdue else ""


def _due(found: Logged) -> Table:
    heads = ("part", "job", "done on", "due on", "run since", "burnt since", "state")
    notes = (
        "What was never logged counts from the first row, less the age that the layout states. "
        "Yearly jobs fall due by hours and litres too.",
    )
    rows = tuple(due_row(one) for one in found.due)
    title = f"Due, as of {found.today.isoformat()}"
    return Table("logbook-due", title, tuple(map(Column, heads)), rows, notes)


def _rows(found: Logged) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for one, fuel in zip(found.entries, burnt(found.entries), strict=True):
        flow = fuel / one.time if fuel is not None and one.time else None
        rows.append(
            (
                one.date,
                one.kind,
                one.part or "",
                _in(fuel, "volume", "ml"),
                _in(one.time, "time", "min"),
                _in(flow, "flow", "ml/min"),
                _in(one.header_air, "volume", "ml"),
                one.volts,
                _in(one.duty, "share", "%"),
                one.temperature,
                one.remarks or "",
            )
        )
    more = len(rows) - MOST_ROWS
    notes = (f"{counted(more, 'earlier row')} in the file.",) if more > 0 else ()
    return Table("logbook", "Logbook", _ROWS, tuple(rows[-MOST_ROWS:]), notes)


def _in(value: float | None, kind: str, unit: str) -> float | None:
    return None if value is None else units.in_unit(value, kind, unit)
