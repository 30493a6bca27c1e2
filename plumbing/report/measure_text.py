"""What `plumbing measure` prints: the values to measure, and what each would decide."""

from __future__ import annotations

from typing import Any

from plumbing.checks.run import Verdict
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.page import Page
from plumbing.report.schema_parts import FIGURE, REAL, WORD, Schema, listed, record, whole
from plumbing.report.sheets.unsaid import taken
from plumbing.report.subject import Subject
from plumbing.report.words import counted, figure

FORMAT = "plumbing-measure/1"
MEASURE = record(what=WORD, keys=listed(WORD), taken=FIGURE, share=REAL, decides=listed(WORD))
_KEYS = 3  # that are named of one thing to measure
_CHOSEN = ("at", "shape", "pickup")


def measure_text(subject: Subject, width: int = 80, colour: bool = False) -> str:
    """Write the form: what to measure in order, what it decides, and room for the value."""
    verdict = subject.examined.verdict
    page = Page.about(subject.examined.case.layout, width, colour)
    if not verdict.measure:
        page.blank()
        page.line("Nothing to measure: no number was left out that a result depends on.")
    else:
        page.heading("To measure", counted(len(verdict.questions), "open question"))
    for number, one in enumerate(verdict.measure, 1):
        page.line(f"{number:>3}  {one.guess.words}", bold=True)
        page.paragraph(f"{figure(taken(one))}        measured ____________", 5, "taken")
        said = f"{100.0 * one.share:.0f} % of a band"
        if one.decides:
            said += f"; as usual it closes {', '.join(one.decides)}"
        page.paragraph(said, 5, "decides")
        more = len(one.guess.paths) - _KEYS
        keys = [*one.guess.paths[:_KEYS], *([f"{more} more"] if more > 0 else [])]
        page.paragraph(", ".join(keys), 5, "key")
    words = waiting(subject)
    if words:
        page.blank()
        page.paragraph(words)
    return page.text()


def waiting(subject: Subject) -> str:
    """What else is not said, and how many checks wait for it, in words."""
    unsaid = subject.examined.case.layout.unsaid
    ends = {path.rpartition(".")[2] for path in unsaid}
    names = {"at": "places", "shape": "shapes of tanks", "pickup": "pickups"}
    said = [names[key] for key in _CHOSEN if key in ends]
    if not said:
        return ""
    checks = len({one.check for one in subject.examined.verdict.unchecked})
    keys = ", ".join(f"`{key}`" for key in _CHOSEN if key in ends)
    return (
        f"Not said either, with no band: {', '.join(said)} ({keys}). "
        f"{counted(checks, 'check')} are unchecked, many for want of them."
    )


def measure_rows(verdict: Verdict) -> list[dict[str, Any]]:
    """What to measure as plain values, for JSON."""
    return [
        {
            "what": one.guess.words,
            "keys": one.guess.paths,
            "taken": taken(one),
            "share": one.share,
            "decides": one.decides,
        }
        for one in verdict.measure
    ]


def measure_schema() -> Schema:
    """Schema of what `plumbing measure --format json` prints."""
    return whole(
        "What to measure",
        format={"const": FORMAT},
        title={"type": "string"},
        measure=listed(MEASURE),
    )


def measure_json(subject: Subject) -> str:
    """Write the same in SI."""
    data = {
        "title": subject.examined.case.layout.title,
        "measure": measure_rows(subject.examined.verdict),
    }
    return json_text(keyed(data, measure_schema()))
