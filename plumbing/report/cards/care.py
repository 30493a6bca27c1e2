"""The maintenance card: what is renewed or looked at, when it is due. Common practice."""

from __future__ import annotations

from collections.abc import Mapping

from plumbing import quantities
from plumbing.model.layout import Layout
from plumbing.report.cards.form import Form
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown
from plumbing.studies.logbook import jobs
from plumbing.studies.logbook.upkeep import FLIGHTS, Use, use_of

_MONTH = quantities.parse("1 month", "age")
_HEADS = (
    "part", "job", "every", "or after", "age in the file", "due from then", "done on", "next due",
)  # fmt: skip


def care(layout: Layout, flown: Flown | NotComputed, limits: Mapping[str, float]) -> Form:
    """Maintenance card of a layout.

    Parameters
    ----------
    layout : Layout
        The layout.
    flown : Flown or NotComputed
        Its flight: fifty of them give the hours and litres.
    limits : mapping of str to float
        Limits of the checks in force [SI].
    """
    use, all_jobs = _use(use_of(layout, flown)), jobs(layout, limits)
    rows = tuple(
        (
            job.part,
            job.what,
            _months(job.every),
            use if job.by_use else "",
            _months(job.age),
            _due(job.every, job.age),
            "",
            "",
        )
        for job in all_jobs
    )
    rules = ", ".join(dict.fromkeys(job.rule for job in all_jobs if job.rule))
    notes = (
        f"Yearly jobs fall due after {FLIGHTS:.0f} flights too, given in hours and litres of the "
        "stated flight unless the file states them. Whatever was opened goes through its bench "
        "tests again.",
        *((f"Limits of age: {rules}.",) if rules else ()),
    )
    return Form("Maintenance", (), (), _HEADS, rows, notes, wide=True)


def _use(use: Use | NotComputed) -> str:
    """Hours and litres between yearly jobs."""
    if not known(use):
        return f"{FLIGHTS:.0f} flights"
    return f"{use.time / 3600:.0f} h or {use.fuel * 1e3:.0f} L"


def _months(age: float | None) -> str:
    if age is None:
        return ""
    months = round(age / _MONTH)
    return f"{months} month{'s' if months != 1 else ''}"


def _due(interval: float, age: float | None) -> str:
    if age is None:
        return ""
    left = interval - age
    return f"in {_months(left)}" if left > 0.0 else "OVERDUE"
