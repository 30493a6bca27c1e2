"""Verdict by stage, what is open, and the evidence for what is not."""

from __future__ import annotations

from plumbing.report.evidence import evidence
from plumbing.report.schedules.table import Column, Table
from plumbing.report.subject import Subject
from plumbing.report.words import counted
from plumbing.stage import STAGES, reached

_EVIDENCE = ("statement", "state", "value", "on", "by", "with", "note", "photo")


def stages(subject: Subject) -> list[Table]:
    """All tables of the stages; those with nothing in them are left out."""
    return [one for one in (verdicts(subject), _open(subject), _evidence(subject)) if one.rows]


def verdicts(subject: Subject) -> Table:
    """Verdict at each stage."""
    now, still = subject.examined.verdict.stage, subject.open()
    rows = []
    for stage in STAGES:
        number = len(still.get(stage, ()))
        said = f"{counted(number, 'statement')} open" if number else "nothing open"
        if stage == now:
            said = subject.verdict() + (f"; {said}" if number else "")
        elif stage == STAGES[0]:
            said = "what is found at the drawing board stays a finding"
        rows.append((stage, _place(stage == now, reached(now, stage)), said))
    notes = (
        "A statement that is open is a finding from its stage on. Before that it is due, neither "
        "clear nor unchecked.",
    )
    columns = (Column("stage"), Column("state"), Column("verdict"))
    return Table("stages", "Verdict by stage", columns, tuple(rows), notes)


def _place(now: bool, behind: bool) -> str:
    return "now" if now else "reached" if behind else "to come"


def _open(subject: Subject) -> Table:
    rows = tuple(
        (stage, one.statement, one.state, one.what, one.check)
        for stage, found in subject.open().items()
        for one in found
    )
    columns = tuple(map(Column, ("due when", "statement", "state", "what it says now", "check")))
    return Table("open", "Open", columns, rows)


def _evidence(subject: Subject) -> Table:
    rows = tuple(
        (
            one.statement,
            one.state,
            one.value,
            one.on,
            one.by,
            one.instrument,
            one.note,
            one.photo,
        )
        for one in evidence(subject.examined)
    )
    return Table("evidence", "Evidence", tuple(map(Column, _EVIDENCE)), rows)
