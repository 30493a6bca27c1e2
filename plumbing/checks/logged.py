"""The logbook beside a layout, held to the limits in force."""

from __future__ import annotations

import os
from datetime import date

from plumbing.checks.case import Case
from plumbing.checks.limits import limits_in_force
from plumbing.checks.pass_marks import capacity
from plumbing.layout.logbook import Known, logbook_of, read_logbook
from plumbing.model.layout import Layout
from plumbing.results import NotComputed
from plumbing.studies.logbook import Logged, jobs
from plumbing.studies.logbook import logged as worked_out


def known_of(layout: Layout) -> Known:
    """What the rows of a layout's logbook are held to."""
    upkeep = (one.part for one in jobs(layout, limits_in_force(layout)))
    parts = (one.name for one in layout.parts())
    names = tuple(dict.fromkeys((*upkeep, *parts, *layout.lines)))
    return Known(names, sum(map(capacity, layout.tanks.values())))


def logged(case: Case, today: date | None) -> Logged | NotComputed:
    """What the logbook beside a layout tells, or that there is none.

    Parameters
    ----------
    case : Case
        The layout with its results.
    today : date or None
        Day on which it is asked; None for that of the last row.

    Raises
    ------
    LayoutError
        The logbook has faults.
    """
    layout = case.layout
    file = logbook_of(layout.place.file)
    if not os.path.exists(file):
        return NotComputed("logbook", f"there is no `{os.path.basename(file)}` beside the layout")
    entries = read_logbook(file, known_of(layout))
    limits = limits_in_force(layout)
    share = limits["air-fills-header-in-flight"]
    air = {tank.name: share * capacity(tank) for tank in layout.headers()}
    last = date.fromisoformat(entries[-1].date) if entries else date.min
    upkeep = jobs(layout, limits)
    return worked_out(layout, case.flight, entries, upkeep, air, file, today or last)
