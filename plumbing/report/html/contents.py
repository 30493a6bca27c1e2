"""What stands on the page: findings, the figures that matter, charts and tables."""

from __future__ import annotations

from plumbing import units
from plumbing.checks.limits import limits_in_force
from plumbing.report.html.figures import Chart, flight_charts, logged_charts, stairs
from plumbing.report.schedules import schedules
from plumbing.report.schedules.table import Table
from plumbing.report.sheets import peaks
from plumbing.report.sheets.balances import balance
from plumbing.report.sheets.broken import broken_sheets
from plumbing.report.sheets.flown import books, endurance, tanks
from plumbing.report.sheets.ground import ground_sheets
from plumbing.report.sheets.logbook import logbook_sheets
from plumbing.report.sheets.missing import missing
from plumbing.report.sheets.revision import revision
from plumbing.report.sheets.sources import sources
from plumbing.report.sheets.stages import stages
from plumbing.report.sheets.unsaid import unsaid
from plumbing.report.subject import Subject
from plumbing.results import NotComputed
from plumbing.units import clock

_DROP = 1e-8  # less air than this is none [m3]


def tiles(subject: Subject) -> list[tuple[str, str, str]]:
    """The few figures that matter: name, value, what it is compared with."""
    case = subject.examined.case
    found = []
    peaks_of = case.peak.engines.values()
    if peaks_of:
        worst = max(peaks_of, key=lambda one: one.dirty.suction.value)
        said = f"at {worst.pump}, {units.show(worst.dirty.celsius, 'temperature', 2)}, filters due"
        found.append(("Highest suction", units.show(worst.dirty.suction.value, "pressure"), said))
    flown = case.flight
    if isinstance(flown, NotComputed):
        return [*found, ("Flight", "not computed", flown.reason)]
    stops = [time for time in flown.flame_out.values() if time is not None]
    left = f"after {flown.profile.name}; reserve {units.show(flown.reserve, 'volume')}"
    landed = ("Usable fuel left", units.show(flown.landed_with, "volume"), left)
    if stops:
        landed = ("Engine stops after", clock(min(stops)), f"in {flown.profile.name}")
    found += [
        landed,
        ("Timer", clock(flown.timer), f"in the air until dry: {clock(flown.endurance)}"),
        (
            "Stranded",
            units.show(sum(flown.stranded.values()), "volume"),
            f"of {units.show(flown.on_board, 'volume')} on board",
        ),
    ]
    air = sum(flown.header_air.values())
    air = air if air > _DROP else 0.0
    if flown.header_air:
        found.append(("Air in the header", units.show(air, "volume", 2), "most in that flight"))
    return found


def charts_of(subject: Subject) -> list[Chart]:
    """Charts of the flight, then the stairs of drops, then those of the logbook."""
    case = subject.examined.case
    return [*flight_charts(case), *stairs(case), *logged_charts(subject.logbook)]


def tables_of(subject: Subject) -> list[tuple[str, list[Table]]]:
    """Tables by section."""
    case = subject.examined.case
    listed = {table.name: table for table in schedules(case.layout, case.survey)}
    peak = [peaks.suctions(case.peak), peaks.facts(case.peak)] if case.peak.engines else []
    limits = limits_in_force(case.layout)
    for engine in case.peak.engines.values():
        peak += [
            peaks.drops(engine, limits),
            *([peaks.delivery(engine)] if engine.delivery else []),
        ]
    peak += missing(case.peak.missing)
    flown = case.flight
    flight = (
        missing([flown])
        if isinstance(flown, NotComputed)
        else [endurance(flown), books(flown), tanks(flown)]
    )
    balanced = balance(case)
    flight += [balanced] if balanced is not None else []
    building = [listed[name] for name in ("tanks", "lines", "fittings", "passages")]
    sections = [
        ("Stages and evidence", stages(subject)),
        ("Changes", revision(subject.since)),
        ("Questions, and what to measure", unsaid(subject)),
        ("Flight and balance", flight),
        ("Peak flow", peak),
        ("Filling, draining, parking", ground_sheets(case)),
        ("One thing broken", broken_sheets(case.faults)),
        ("Building", building),
        ("Logbook", logbook_sheets(subject.logbook)),
        ("Sources", [sources(subject)]),
    ]
    return [(name, tables) for name, tables in sections if tables]
