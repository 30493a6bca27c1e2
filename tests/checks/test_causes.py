"""Findings are gathered under their causes: what one mistake brings is one thing to mend."""

from functools import cache
from pathlib import Path

import pytest
from overlay import overlaid

from plumbing import api
from plumbing.checks.causes import Mended, gathered, key, known, may_follow
from plumbing.checks.examined import Examined, examine
from plumbing.checks.registry import checks
from plumbing.findings import Figure, Finding, Severity
from plumbing.report.subject import Subject
from plumbing.report.text import check_text

LAYOUTS = Path(__file__).parents[2] / "layouts"


@pytest.mark.slow
def test_every_finding_has_one_place() -> None:
    """Each finding stands once: as a cause or below one; the numbers run from 1, worst first."""
    examined = api.check(LAYOUTS / "bad.yaml")
    causes = examined.causes
    told = [(*key(f), f.what) for one in causes for f in (*one.findings, *one.follows)]
    assert sorted(told) == sorted((*key(f), f.what) for f in examined.findings)
    assert [one.number for one in causes] == list(range(1, len(causes) + 1))
    ranks = [one.severity.rank for one in causes]
    assert ranks == sorted(ranks)


def test_what_is_known_to_follow_is_no_circle() -> None:
    """The table names checks that there are, and nothing follows from itself."""
    names = {check.name for check in checks()}
    for table in known().values():
        for effect, causes in table.items():
            assert {effect, *causes} <= names
            assert effect not in may_follow(effect)


@pytest.mark.slow
def test_what_follows_goes_with_its_cause() -> None:
    """Tanks that meet in a tee are one cause; on the mended copy all that follows is gone."""
    examined = api.check(LAYOUTS / "teed-pair.yaml")
    cause = examined.causes[0]
    assert cause.finding.check == "teed-pickups-draw-air"
    assert cause.sure
    follows = {one.check for one in cause.follows}
    assert {"feed-order-unpredictable", "fuel-stranded", "lands-below-reserve"} <= follows
    change = cause.finding.remedies[0].change
    outcomes = api.remedies(examined, 1).outcomes
    mended = next(one.proposal.layout for one in outcomes if one.proposal.change == change)
    left = {key(one) for one in examine(mended).findings}
    assert not {key(one) for one in (*cause.findings, *cause.follows)} & left


def finding(check: str, part: str = "pump", severity: Severity = Severity.FAULT) -> Finding:
    """A finding without numbers."""
    return Finding(check, severity, part, f"{check} at {part}")


def test_what_was_tried_outweighs_what_is_known() -> None:
    """What stays when its supposed cause was mended is a cause of its own; what goes follows."""
    case = examined_starter().case
    cause, staying = finding("teed-pickups-draw-air"), finding("fuel-stranded", "main")
    going = finding("clunk-can-jam", "main")
    every = (cause, staying, going)
    guessed = gathered(case.layout, case.survey, every)
    assert [one.finding.check for one in guessed] == ["teed-pickups-draw-air", "clunk-can-jam"]
    tried = {cause.check: Mended(frozenset({key(cause), key(going)}), frozenset())}
    seen = gathered(case.layout, case.survey, every, tried)
    assert {one.finding.check for one in seen} == {"teed-pickups-draw-air", "fuel-stranded"}
    assert [one.check for one in seen[0].follows] == ["clunk-can-jam"]


def test_the_same_at_another_system_is_another_matter() -> None:
    """In a twin of two systems the fault of one side has not brought what is wrong on the other."""
    case = api.check(LAYOUTS / "twin.yaml").case
    every = (finding("header-vented", "port header"), finding("fuel-stranded", "starboard main"))
    assert len(gathered(case.layout, case.survey, every)) == 2
    every = (finding("header-vented", "port header"), finding("fuel-stranded", "port main"))
    assert len(gathered(case.layout, case.survey, every)) == 1


def test_causes_are_ranked_by_how_surely_they_are_over() -> None:
    """Of two faults the one whose whole band is farther over its limit comes first."""
    case = examined_starter().case

    def over(check: str, low: float, value: float) -> Finding:
        measured = Figure(value, "ratio", low, 2 * value - low)
        allowed = Figure(10.0, "ratio")
        return Finding(check, Severity.FAULT, "main", "w", measured=measured, allowed=allowed)

    every = (over("hose-overdue", 11.0, 30.0), over("clunk-touches-wall", 19.0, 20.0))
    found = gathered(case.layout, case.survey, every)
    assert [one.finding.check for one in found] == ["clunk-touches-wall", "hose-overdue"]


@cache
def examined_starter() -> Examined:
    """The plainest starter, examined."""
    return examine(overlaid("single-main", "{}"))


@pytest.mark.parametrize("name", ["bad", "single-main", "twin"])
def test_a_check_fits_on_one_screen(name: str) -> None:
    """24 rows of 80 columns hold the verdict and a row for each cause, or say how many more."""
    subject = Subject(api.check(LAYOUTS / f"{name}.yaml"))
    rows = check_text(subject).splitlines()
    assert len(rows) <= 23  # and the row of the prompt
    assert max(map(len, rows)) <= 80
    causes = subject.examined.causes
    said = [row for row in rows if row[:3].strip().isdigit() and row[3:4] == " "]
    more = [int(row.split()[1]) for row in rows if row.startswith("     and ")]
    listed = [row for row in said if " to mend" not in row and " clear" not in row]
    assert len(listed) + sum(more) == len(causes)
