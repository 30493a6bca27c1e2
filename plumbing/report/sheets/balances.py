"""Mass and centre of gravity at every step of the feed order."""

from __future__ import annotations

from plumbing.checks.case import Case
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.simulation.balance import states

_MM = 1e3
_COLUMNS = (
    Column("state"),
    Column("gear"),
    Column("mass", "kg", 2),
    Column("CG x", "mm", 1),
    Column("CG y", "mm", 1),
    Column("CG z", "mm", 1),
    Column("after the forward limit", "mm", 1),
    Column("before the aft limit", "mm", 1),
    Column("verdict"),
)


def balance(case: Case) -> Table | None:
    """Full, each tank emptied in order, no fuel; gear down and up. None without a dry CG."""
    found = states(case.layout, case.survey.order.steps)
    if not found:
        return None
    limits = case.layout.aircraft.cg_limits
    rows: list[tuple[Cell, ...]] = []
    for one in found:
        x = one.cg[0]
        fore = aft = None
        verdict = "no limits stated"
        if limits is not None:
            fore, aft = (x - limits[0]) * _MM, (limits[1] - x) * _MM
            verdict = "too far forward" if fore < 0.0 else "too far aft" if aft < 0.0 else "inside"
        said = one.what.removesuffix(" and the gear up")
        place = (value * _MM for value in one.cg)
        rows.append((said, "up" if one.gear_up else "down", one.mass, *place, fore, aft, verdict))
    notes = (
        "Fuel at rest in level flight, tanks emptied one after the other in the order the vents "
        "decide. Weigh the finished aircraft in the same states.",
    )
    return Table("balance", "Mass and centre of gravity", _COLUMNS, tuple(rows), notes)
