"""Two states of one layout beside each other: what changed, and what has to be tested again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from plumbing.checks.examined import Examined
from plumbing.checks.pass_marks import pass_marks
from plumbing.checks.remedied import followed
from plumbing.frozen import frozen
from plumbing.layout.differences import Path, Plain, differences
from plumbing.layout.edit import flow
from plumbing.network import Role
from plumbing.report.cards.bench import bench_cards, test_titles
from plumbing.report.json_schema import compare_schema
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.page import Page
from plumbing.report.remedy_text import did
from plumbing.report.words import counted
from plumbing.studies.bench import predict, readings
from plumbing.studies.remedies import Outcome

_TANKS = ("tank-pressure", "tank-suction")
_SUCTION = ("suction-vacuum", "suction-wet")
_PRESSURE = ("pressure-side",)
_VENTS = ("fill", "vent-air")
_STOPS = ("stops",)
_SECTIONS = {"tanks": _TANKS, "outlets": _VENTS, "engines": _STOPS, "valves": _STOPS}
_ROLES = {Role.SUCTION: _SUCTION, Role.PRESSURE: _PRESSURE, Role.VENT: _VENTS}


@frozen
class Change:
    """A value that is not what it was.

    Attributes
    ----------
    what : str
        Its keys in the layout file, or what is measured on the bench.
    before, after : str
        As it was and as it is; empty where there is none.
    """

    what: str
    before: str
    after: str


@frozen(eq=False)
class Comparison:
    """What changed from one state of a layout to another.

    Attributes
    ----------
    before, after : Examined
        Both states.
    changes : tuple of Change
        Parts, lines and numbers of the file.
    outcome : Outcome
        Findings that went, eased and came.
    predictions : tuple of Change
        Values to be measured on the bench for which another value is predicted now.
    tests : tuple of str
        Bench cards, by number and title, that what was changed takes part in.
    """

    before: Examined
    after: Examined
    changes: tuple[Change, ...]
    outcome: Outcome
    predictions: tuple[Change, ...]
    tests: tuple[str, ...]


def comparison(before: Examined, after: Examined) -> Comparison:
    """Compare two states of a layout."""
    old, new = before.case.layout, after.case.layout
    forth, back = differences(old, new), differences(new, old)
    paths = tuple(dict.fromkeys((*forth, *back)))
    changes = tuple(Change(".".join(x), _said(back.get(x)), _said(forth.get(x))) for x in paths)
    expected, now = _expected(before), _expected(after)
    return Comparison(
        before,
        after,
        changes,
        followed(before.verdict, new, after.verdict),
        tuple(
            Change(words, expected.get(words, ""), now.get(words, ""))
            for words in dict.fromkeys((*expected, *now))
            if expected.get(words) != now.get(words)
        ),
        tuple(_titles(test for one in (before, after) for test in _tests(one, paths))),
    )


def _said(value: Plain | None) -> str:
    return "" if value is None else flow(value)


def _expected(examined: Examined) -> dict[str, str]:
    """What the bench card predicts, by what is measured."""
    case = examined.case
    predicted = predict(
        case.layout, case.survey, case.peak, parkings=case.parking, fillings=case.filling
    )
    cards = bench_cards(readings(predicted, pass_marks(case)))
    rows = [row for card in cards for row in card.rows if row.expected]
    return {row.words: f"{row.expected} ({row.band})" if row.band else row.expected for row in rows}


def _titles(names: Iterable[str]) -> list[str]:
    """Titles of tests in the order in which they are done."""
    wanted = set(names)
    return [title for name, title in test_titles().items() if name in wanted]


def _tests(examined: Examined, paths: tuple[Path, ...]) -> Iterator[str]:
    """Tests of the parts at the paths, and of the lines that end there."""
    uses = examined.case.survey.lines
    for section, *names in paths:
        yield from _SECTIONS.get(section, ())
        for name, line in examined.case.layout.lines.items():
            ends = {end.partition(".")[0] for end in (line.from_, line.to)}
            if names and ((section == "lines" and name == names[0]) or names[0] in ends):
                yield from _ROLES.get(uses[name].role, ())


def compare_text(found: Comparison, width: int = 80, colour: bool = False) -> str:
    """Write a comparison for a terminal.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page(width, colour)
    page.line(found.after.case.layout.title, bold=True)
    files = [one.case.layout.place.file for one in (found.before, found.after)]
    page.paragraph(f"{files[0]} -> {files[1]}")
    page.heading("Changed in the file", counted(len(found.changes), "value"))
    _changes(page, found.changes)
    page.heading("Findings", "by the whole check")
    did(page, found.outcome)
    page.heading("To be measured again", "another value is predicted")
    _changes(page, found.predictions)
    page.heading("To be tested again", "something changed there")
    page.paragraph("; ".join(found.tests) or "nothing", indent=2)
    return page.text()


def _changes(page: Page, changes: tuple[Change, ...]) -> None:
    for one in changes:
        words = f"{one.before} -> {one.after}" if one.before and one.after else ""
        words = words or (f"new: {one.after}" if one.after else f"gone: {one.before}")
        page.paragraph(f"{one.what}: {words}", indent=2)
    if not changes:
        page.paragraph("nothing", indent=2)


def compare_json(found: Comparison) -> str:
    """Write a comparison as JSON."""
    outcome = found.outcome
    data: dict[str, Any] = {
        "before": found.before.case.layout.place.file,
        "after": found.after.case.layout.place.file,
        "changes": found.changes,
        "gone": outcome.clears,
        "eased": [now for _, now in outcome.eases],
        "new": outcome.spoils,
        "predictions": found.predictions,
        "tests": found.tests,
    }
    return json_text(keyed(data, compare_schema()))
