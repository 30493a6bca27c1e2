"""A logbook with everything that follows from it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from plumbing.findings import Finding
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.logbook import Entry
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown
from plumbing.studies.logbook.burn import Burn, burn, burn_findings
from plumbing.studies.logbook.trends import Trend, hours_run, trend_findings, trends
from plumbing.studies.logbook.upkeep import Due, Job, due, due_findings, use_of


@frozen
class Logged:
    """What a logbook tells.

    Attributes
    ----------
    file : str
        Path of the logbook.
    today : date
        Day on which it is asked.
    entries : tuple of Entry
        Its rows by day.
    hours : float
        Hours that engines have run.
    burn : Burn or NotComputed
        Flow, timer and reserve as measured.
    trends : tuple of Trend
        Readings over the hours.
    due : tuple of Due
        When each job is due.
    findings : tuple of Finding
        What is beyond a limit, worst first.
    """

    file: str
    today: date
    entries: tuple[Entry, ...]
    hours: float
    burn: Burn | NotComputed
    trends: tuple[Trend, ...]
    due: tuple[Due, ...]
    findings: tuple[Finding, ...]


def logged(
    layout: Layout,
    flown: Flown | NotComputed,
    entries: Sequence[Entry],
    all_jobs: Sequence[Job],
    header_air: Mapping[str, float],
    file: str,
    today: date,
) -> Logged:
    """Work out what a logbook tells.

    Parameters
    ----------
    layout : Layout
        The layout.
    flown : Flown or NotComputed
        Its flight.
    entries : sequence of Entry
        Rows by day.
    all_jobs : sequence of Job
        Upkeep of the layout.
    header_air : mapping of str to float
        Most air each header may hold [m3].
    file : str
        Path of the logbook.
    today : date
        Day on which it is asked.
    """
    measured = burn(layout, flown, entries)
    drift = trends(layout, entries, header_air)
    dates = due(all_jobs, use_of(layout, flown), entries, today)
    findings = (
        *(burn_findings(layout, measured) if known(measured) else ()),
        *trend_findings(drift),
        *due_findings(dates),
    )
    return Logged(
        file,
        today,
        tuple(entries),
        hours_run(entries)[-1] if entries else 0.0,
        measured,
        drift,
        dates,
        tuple(sorted(findings, key=lambda one: one.severity.rank)),
    )
