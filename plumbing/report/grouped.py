"""Findings by severity and check, with what those of one check share said once."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from plumbing.drawing.sheet import slug
from plumbing.drawing.text import clean
from plumbing.findings import Finding
from plumbing.report.subject import Subject
from plumbing.report.words import MEANING, figure

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


def findings_of(subject: Subject, drawn: str = "") -> list[SeverityGroup]:
    """Findings by severity and check, with the ids of their parts in the drawings.

    Parameters
    ----------
    subject : Subject
        Whose findings.
    drawn : str
        SVG text of drawings on the same page, to link to.
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
