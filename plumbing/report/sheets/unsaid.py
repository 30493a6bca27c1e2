"""What the values left out of a file leave open, and what to measure, as tables."""

from __future__ import annotations

from plumbing.findings import Figure, Measure, Question
from plumbing.report.schedules.table import Column, Table
from plumbing.report.subject import Subject
from plumbing.report.words import compared, figure

_QUESTIONS = (Column("question"), Column("severity"), Column("part"), Column("value and limit"),
              Column("what would tell"))  # fmt: skip
_MEASURES = (
    Column("no."),
    Column("measure"),
    Column("taken, and what it could be"),
    Column("of a band", "%"),
    Column("alone decides"),
    Column("measured"),
)
_TOLD = 3  # things that would tell which one question names
FORM = "to measure"


def unsaid(subject: Subject) -> list[Table]:
    """Open questions, and the form of what to measure; none where nothing is left out."""
    verdict = subject.examined.verdict
    found = []
    if verdict.questions:
        rows = tuple(_question(one) for one in verdict.questions)
        found.append(Table("questions", "Questions that what is not said leaves", _QUESTIONS, rows))
    if verdict.measure:
        found.append(form(verdict.measure))
    return found


def form(measures: tuple[Measure, ...]) -> Table:
    """Form of what to measure, with room for the measured value."""
    rows = tuple(
        (
            str(number),
            one.guess.words,
            figure(taken(one)),
            100.0 * one.share,
            ", ".join(one.decides),
            "",
        )
        for number, one in enumerate(measures, 1)
    )
    notes = ("What is measured goes into the file; `plumbing measure` names the key.",)
    return Table(FORM, "To measure, what tells most first", _MEASURES, rows, notes)


def taken(one: Measure) -> Figure:
    """The value that was taken, with what it could be."""
    return Figure(one.guess.usual, one.guess.kind, one.guess.low, one.guess.high)


def _question(one: Question) -> tuple[str, ...]:
    finding = one.finding
    told = ", ".join(one.measure[:_TOLD])
    return finding.check, str(finding.severity), finding.part, compared(finding), told
