"""Causes by severity, each with what its findings share said once and what follows from it."""

from __future__ import annotations

from itertools import groupby

from plumbing.drawing.sheet import slug
from plumbing.drawing.text import clean
from plumbing.findings import Cause, Finding, Severity
from plumbing.frozen import frozen
from plumbing.report.subject import Subject
from plumbing.report.words import MEANING, compared

_KINDS = ("s-part", "s-line", "side-zone", "side-former", "plan-zone", "plan-former")


@frozen
class Noted:
    """A finding as the page shows it.

    Attributes
    ----------
    finding : Finding
        The finding.
    target : str
        Id of its part in a drawing, or empty.
    measured : str
        Measured and allowed value in words, or empty.
    """

    finding: Finding
    target: str
    measured: str


@frozen
class CauseGroup:
    """A cause with what its findings share.

    Attributes
    ----------
    cause : Cause
        The cause.
    notes : list of Noted
        Its findings.
    parts : tuple of str
        Names to highlight.
    why, advice, source : list of str
        What the findings share, each once.
    follows : list of str
        What follows from it, in words.
    """

    cause: Cause
    notes: list[Noted]
    parts: tuple[str, ...]
    why: list[str]
    advice: list[str]
    source: list[str]
    follows: list[str]


@frozen
class SeverityGroup:
    """Causes of one severity."""

    severity: str
    meaning: str
    causes: list[CauseGroup]


def findings_of(subject: Subject, drawn: str = "") -> list[SeverityGroup]:
    """Causes by severity, with the ids of their parts in the drawings.

    Parameters
    ----------
    subject : Subject
        Whose findings.
    drawn : str
        SVG text of drawings on the same page, to link to.
    """
    return [
        SeverityGroup(str(severity), MEANING[severity], [_group(one, drawn) for one in same])
        for severity, same in groupby(subject.examined.causes, key=_severity)
    ]


def following(cause: Cause) -> list[str]:
    """What follows from a cause: check, part and what was found, in words."""
    return [f"{one.check}, {one.part}: {one.what}" for one in cause.follows]


def _severity(cause: Cause) -> Severity:
    return cause.severity


def _group(cause: Cause, drawn: str) -> CauseGroup:
    shared = {
        field: list(dict.fromkeys(getattr(one, field) for one in cause.findings))
        for field in ("why", "advice", "source")
    }
    return CauseGroup(
        cause,
        [_noted(one, drawn) for one in cause.findings],
        tuple(dict.fromkeys(clean(name) for name in cause.parts)),
        **shared,
        follows=following(cause),
    )


def _noted(finding: Finding, drawn: str) -> Noted:
    ids = (slug(kind, finding.part) for kind in _KINDS)
    target = next((one for one in ids if f'id="{one}"' in drawn), "") if finding.part else ""
    return Noted(finding, target, compared(finding))
