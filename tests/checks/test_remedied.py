"""Remedies do what they say: what one claims to clear is gone when its layout is checked anew."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner
from overlay import overlaid

from plumbing import api
from plumbing import layout as layouts
from plumbing.checks.registry import checks
from plumbing.checks.remedied import Remedied, remedied
from plumbing.checks.run import examine
from plumbing.cli import main
from plumbing.findings import Figure, Finding, Severity
from plumbing.model.layout import Layout
from plumbing.studies.remedies import Judged, tried
from plumbing.studies.remedies.trial import _eased

LAYOUTS = Path(__file__).parents[2] / "layouts"
AIMED = {
    "second-open-vent": "cap ",
    "teed-pickups-draw-air": "in series",
    "narrow-bore-on-suction-side": "open the bore",
    "cold-suction-too-high": "barbs made for it",
    "header-too-small": "a header",
    "pump-above-fuel": "lower",
    "no-loop-in-vent": "a loop",
    "vent-too-narrow-for-filling": "fill at",
    "pickup-misses-low-corner": "a clunk at",
    "tanks-empty-in-other-order": "mean the order",
}


@cache
def bad(name: str) -> Remedied:
    """The Bad example of a check, with the remedies tried for it."""
    check = next(one for one in checks() if one.name == name)
    return remedied(examine(overlaid(check.starter, check.bad)), name)


def keys(findings: tuple[Finding, ...]) -> set[tuple[str, str]]:
    """Check and part of each."""
    return {(one.check, one.part) for one in findings}


@pytest.mark.quick("cold", "header", "loop")
@pytest.mark.parametrize("name", AIMED)
def test_each_kind_of_remedy_helps_the_example_it_is_for(name: str) -> None:
    """On the Bad example of its check, the remedy is found among those that help."""
    changes = [one.proposal.change for one in bad(name).outcomes]
    assert any(AIMED[name] in change for change in changes), changes


@pytest.mark.quick("cold", "header", "loop")
@pytest.mark.parametrize("name", AIMED)
def test_what_is_said_to_be_cleared_is_gone(name: str) -> None:
    """A whole new run of all checks on the changed layout finds none of what was cleared."""
    found = bad(name)
    for outcome in found.outcomes:
        again = keys(examine(outcome.proposal.layout).findings)
        assert not keys(outcome.clears) & again
        assert keys(outcome.spoils) <= again
        assert keys(outcome.clears) <= keys(found.examined.findings)


@pytest.mark.slow
def test_a_teed_pair_is_cured_by_a_chain() -> None:
    """What strands fuel in a teed pair is gone when the tanks are put in series."""
    found = remedied(examine(layouts.load(LAYOUTS / "teed-pair.yaml")))
    best = found.outcomes[0]
    assert "in series" in best.proposal.change
    assert {"teed-pickups-draw-air", "fuel-stranded"} <= {one.check for one in best.clears}
    assert not best.spoils
    ranks = [one.rank for one in found.outcomes]
    assert ranks == sorted(ranks)
    stranded = next(f for f in found.examined.findings if f.check == "teed-pickups-draw-air")
    assert stranded.remedies
    assert "clears this" in stranded.remedies[0].buys


@pytest.mark.slow
def test_slower_filling_holds_for_the_file_as_well() -> None:
    """Writing the smaller flow into the file's text gives the finding the remedy promises."""
    check = next(one for one in checks() if one.name == "vent-too-narrow-for-filling")
    layout = overlaid(check.starter, check.bad)
    outcome = next(
        one for one in bad(check.name).outcomes if one.proposal.change.startswith("fill at")
    )
    assert layout.filling.flow is not None
    assert outcome.proposal.layout.filling.flow == pytest.approx(0.7 * layout.filling.flow)
    before = next(f for f in examine(layout).findings if f.check == check.name)
    after = [f for f in examine(outcome.proposal.layout).findings if f.check == check.name]
    assert before.measured is not None
    assert all(f.measured.value < before.measured.value for f in after if f.measured)


@pytest.mark.slow
def test_the_layout_itself_is_never_changed() -> None:
    """Trying remedies leaves the layout as it was read."""
    layout = layouts.load(LAYOUTS / "bad.yaml")
    remedied(examine(layout), "pump-above-fuel")
    assert layout == layouts.load(LAYOUTS / "bad.yaml")


def finding(value: float, severity: Severity = Severity.FAULT, band: float = 0.0) -> Finding:
    """A finding against a limit of 10."""
    measured = Figure(value, "ratio", value - band, value + band)
    return Finding("c", severity, "p", "w", measured=measured, allowed=Figure(10.0, "ratio"))


@pytest.mark.parametrize(
    ("before", "after", "eased"),
    [
        (finding(20.0), finding(15.0), True),
        (finding(20.0), finding(19.99), False),
        (finding(15.0), finding(20.0), False),
        (finding(5.0), finding(8.0), True),
        (finding(9.0), finding(11.0), False),
        (finding(4.0, Severity.ADVICE), finding(11.0), False),
        (finding(20.0), finding(30.0, Severity.ADVICE), True),
        (finding(12.0, band=4.0), finding(11.0, band=4.0), True),
        (finding(8.0, Severity.ADVICE, 4.0), finding(9.0, Severity.ADVICE, 4.0), False),
    ],
)
def test_what_counts_as_easing(before: Finding, after: Finding, eased: bool) -> None:
    """Nearer to the limit on the same side, or less severe; never across it or more severe.

    Advice whose band alone crosses the limit is not eased by coming nearer to it.
    """
    assert _eased(before, after) is eased


@pytest.mark.slow
def test_a_check_that_lost_its_data_has_cleared_nothing() -> None:
    """Where a changed layout leaves a check unchecked, its findings are not called cleared."""
    layout = layouts.load(LAYOUTS / "teed-pair.yaml")
    old = replace(finding(20.0), check="teed-pickups-draw-air")
    asked = frozenset({"teed-pickups-draw-air"})
    before = Judged((old,), asked, frozenset())

    def judge(_: Layout):
        return lambda *_: Judged((), asked, asked)

    assert tried(layout, api.check(layout).case.survey, before, judge) == ()


def test_the_command_says_what_was_tried() -> None:
    """`plumbing remedy` lists remedies; an unknown check is refused with the nearest name."""
    path = str(LAYOUTS / "teed-pair.yaml")
    done = CliRunner().invoke(main, ["remedy", path, "teed-pickups-draw-air"])
    assert done.exit_code == 0
    assert "in series" in done.output
    assert all(len(line) <= 80 for line in done.output.splitlines())
    wrong = CliRunner().invoke(main, ["remedy", path, "teed-pickup-draws-air"])
    assert wrong.exit_code == 2
    assert "teed-pickups-draw-air" in wrong.output


def test_a_tank_moved_within_its_bay_brings_the_balance_back() -> None:
    """A centre of gravity a little ahead of its limit comes back when the main moves aft."""
    layout = overlaid(
        "single-main",
        "tanks: {main: {fixing: {allowance: 60 mm}}}\naircraft: {cg-limits: [362 mm, 392 mm]}\n",
    )
    name = "cg-outside-limits"
    before = [one for one in examine(layout, quick=True).findings if one.check == name]
    outcomes = remedied(examine(layout, quick=True), name).outcomes
    moved = [one for one in outcomes if "main" in one.proposal.change]
    assert before
    assert any("aft, within its bay" in one.proposal.change for one in moved)
    again = [one for one in examine(moved[0].proposal.layout, quick=True).findings]
    assert len([one for one in again if one.check == name]) < len(before)
