"""What stands on the page: findings, the figures that matter, charts and tables."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from plumbing import units
from plumbing.checks.case import Case
from plumbing.drawing.sheet import slug
from plumbing.drawing.text import clean
from plumbing.findings import Finding
from plumbing.report.fly_text import clock
from plumbing.report.html.figures import Chart, flight_charts, stairs
from plumbing.report.schedules import schedules
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.report.sheets import peaks
from plumbing.report.sheets.balances import balance
from plumbing.report.sheets.flown import endurance, tanks
from plumbing.report.sheets.sources import sources
from plumbing.report.subject import Subject
from plumbing.report.words import MEANING, figure

_DROP = 1e-8  # less air than this is none [m3]
_KINDS = ("s-part", "s-line", "side-zone", "side-former", "plan-zone", "plan-former")


@dataclass(frozen=True, slots=True)
class Noted:
    """A finding as the page shows it.

    Attributes
    ----------
    number : int
        Its number on the drawings.
    finding : Finding
        The finding.
    parts : tuple of str
        Names to highlight.
    target : str
        Id of its part in a drawing, or empty.
    measured : str
        Measured and allowed value in words, or empty.
    """

    number: int
    finding: Finding
    parts: tuple[str, ...]
    target: str
    measured: str


@dataclass(frozen=True, slots=True)
class CheckGroup:
    """Findings of one check, with what they share."""

    check: str
    notes: list[Noted]
    why: list[str]
    advice: list[str]
    source: list[str]


@dataclass(frozen=True, slots=True)
class SeverityGroup:
    """Findings of one severity."""

    severity: str
    meaning: str
    checks: list[CheckGroup]
    count: int


def findings_of(subject: Subject, drawn: str) -> list[SeverityGroup]:
    """Findings by severity and check, with the ids of their parts in the drawings.

    Parameters
    ----------
    subject : Subject
        Whose findings.
    drawn : str
        SVG text of the drawings.
    """
    notes = [
        _noted(number, finding, drawn)
        for number, finding in enumerate(subject.examined.findings, start=1)
    ]
    groups = []
    for severity, same in groupby(notes, key=lambda note: note.finding.severity):
        listed = list(same)
        checks = [
            _of_one_check(check, list(few))
            for check, few in groupby(listed, key=lambda note: note.finding.check)
        ]
        groups.append(SeverityGroup(str(severity), MEANING[severity], checks, len(listed)))
    return groups


def _of_one_check(check: str, notes: list[Noted]) -> CheckGroup:
    shared = {
        field: list(dict.fromkeys(getattr(note.finding, field) for note in notes))
        for field in ("why", "advice", "source")
    }
    return CheckGroup(check, notes, shared["why"], shared["advice"], shared["source"])


def _noted(number: int, finding: Finding, drawn: str) -> Noted:
    names = tuple(dict.fromkeys(clean(name) for name in (finding.part, *finding.parts) if name))
    ids = (slug(kind, finding.part) for kind in _KINDS)
    target = next((one for one in ids if f'id="{one}"' in drawn), "") if finding.part else ""
    measured = ""
    if finding.measured and finding.allowed:
        measured = f"{figure(finding.measured)}; limit {figure(finding.allowed)}"
    return Noted(number, finding, names, target, measured)


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
    if flown is None:
        return found
    stops = [time for time in flown.flame_out.values() if time is not None]
    left = f"after {flown.profile.name}; reserve {units.show(flown.reserve, 'volume')}"
    landed = (
        f"engine stops at {clock(min(stops))}" if stops else units.show(flown.landed_with, "volume")
    )
    found += [
        ("Usable fuel left", landed, left),
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


def charts_of(case: Case) -> list[Chart]:
    """Charts of the flight, then the stairs of drops."""
    return [*flight_charts(case), *stairs(case)]


def tables_of(subject: Subject) -> list[tuple[str, list[Table]]]:
    """Tables by section."""
    case = subject.examined.case
    listed = {table.name: table for table in schedules(case.layout, case.survey)}
    peak = [peaks.suctions(case.peak), peaks.facts(case.peak)] if case.peak.engines else []
    for engine in case.peak.engines.values():
        peak += [peaks.drops(engine), *([peaks.delivery(engine)] if engine.delivery else [])]
    if case.peak.unsolved:
        rows: tuple[tuple[Cell, ...], ...] = tuple(case.peak.unsolved.items())
        columns = (Column("engine"), Column("why"))
        peak.append(Table("unsolved", "Not computed at full flow", columns, rows))
    flight = [] if case.flight is None else [endurance(case.flight), tanks(case.flight)]
    balanced = balance(case)
    flight += [balanced] if balanced is not None else []
    building = [listed[name] for name in ("tanks", "lines", "fittings", "passages")]
    sections = [
        ("Flight and balance", flight),
        ("Peak flow", peak),
        ("Building", building),
        ("Sources", [sources(subject)]),
    ]
    return [(name, tables) for name, tables in sections if tables]
