"""Remedies do what they say: what one claims to clear is gone when its layout is checked anew."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner
from overlay import overlaid

from plumbing import api
from plumbing import layout as layouts
from plumbing.checks.case import Case
from plumbing.checks.examined import Remedied, examine, remedied
from plumbing.checks.registry import checks
from plumbing.cli import main
from plumbing.findings import Figure, Finding, Severity
from plumbing.model.layout import Layout
from plumbing.studies.remedies import Judged, trials
from plumbing.studies.remedies.trial import _eased

LAYOUTS = Path(__file__).parents[2] / "layouts"
AIMED = {
    "second-open-vent": "cap ",
    "teed-pickups-draw-air": "in series",
    "narrow-bore-on-suction-side": "open the bore",
    "cold-suction-too-high": "barbs made for it",
    "header-too-small": "a larger header",
    "pump-above-fuel": "lower",
    "no-loop-in-vent": "a loop",
    "filling-flow-too-fast": "fill at",
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
        assert outcome.good == (again <= keys(found.examined.findings))
        assert keys(outcome.clears) <= keys(found.examined.findings)


@pytest.mark.slow
def test_a_teed_pair_is_cured_by_a_chain() -> None:
    """What strands fuel in a teed pair is gone when the tanks are put in series."""
    found = remedied(examine(layouts.load(LAYOUTS / "teed-pair.yaml")))
    chain = next(one for one in found.outcomes if "in series" in one.proposal.change)
    assert {"teed-pickups-draw-air", "fuel-stranded"} <= {one.check for one in chain.clears}
    ranks = [(not one.good, one.rank) for one in found.outcomes]
    assert ranks == sorted(ranks)
    cause = found.causes[0].finding
    assert cause.check == "teed-pickups-draw-air"
    assert "clears this" in cause.remedies[0].buys


@pytest.mark.slow
def test_slower_filling_is_the_highest_safe_flow() -> None:
    """At the flow proposed no tank comes near to its limit; with 1 % more one does."""
    name = "filling-flow-too-fast"
    check = next(one for one in checks() if one.name == name)
    found = remedied(examine(overlaid(check.starter, check.bad)), name)
    best = found.outcomes[0]
    assert best.proposal.change.startswith("fill at")
    flow = best.proposal.layout.filling.flow
    assert flow is not None

    def at(share: float) -> set[str]:
        text = f"filling: {{flow: {6e7 * share * flow:.6g} ml/min}}"
        return {one.check for one in examine(overlaid(check.starter, text)).findings}

    assert name not in at(1.0)
    assert name in at(1.01)


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

    assert trials(Case(layout), before, judge, frozenset({old.check})) == ()


@pytest.mark.slow
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


@pytest.mark.slow
def test_a_remedy_is_written_into_the_file(tmp_path: Path) -> None:
    """After `remedy 1 --apply` the file reads as tried, its comments kept, and is clear."""
    source = (LAYOUTS / "teed-pair.yaml").read_text()
    path = tmp_path / "mine.yaml"
    path.write_text(source)
    refused = CliRunner().invoke(main, ["remedy", str(path), "1", "--apply", "--take", "9"])
    assert refused.exit_code == 2  # there is no ninth
    assert path.read_text() == source
    outcome = api.remedies(path, 1).outcomes[0]
    done = CliRunner().invoke(main, ["remedy", str(path), "1", "--apply"])
    assert done.exit_code == 0, done.output
    assert "Before:" in done.output
    assert "After:" in done.output
    text = path.read_text()
    comments = [row for row in source.splitlines() if row.lstrip().startswith("#")]
    assert [row for row in text.splitlines() if row.lstrip().startswith("#")] == comments
    left = keys(api.check(path).findings)
    assert not keys(outcome.clears) & left
    assert keys(outcome.spoils) <= left


def test_where_nothing_was_tried_the_cure_is_said(tmp_path: Path) -> None:
    """A cause without a remedy of the program's own shows the cure of its check."""
    path = tmp_path / "a.yaml"
    path.write_text((LAYOUTS / "single-main.yaml").read_text().replace("timer: ", "timer: 5", 1))
    done = CliRunner().invoke(main, ["remedy", str(path), "1"])
    assert done.exit_code == 0
    cure = next(one for one in checks() if one.name == "timer-too-long").cure
    assert " ".join(cure.split()[:5]) in " ".join(done.output.split())


def test_a_number_that_is_no_cause_is_refused() -> None:
    """The message says which there are; --apply needs to know which."""
    path = str(LAYOUTS / "single-main.yaml")
    for arguments in (["remedy", path, "99"], ["remedy", path, "--apply"]):
        done = CliRunner().invoke(main, arguments)
        assert done.exit_code == 2


def test_a_tank_moved_within_its_bay_brings_the_balance_back() -> None:
    """A centre of gravity a little ahead of its limit comes back when the main moves aft."""
    layout = overlaid(
        "single-main",
        "tanks: {main: {fixing: {allowance: 60 mm}}}\naircraft: {cg-limits: [362 mm, 392 mm]}\n",
    )
    name = "cg-outside-limits"
    before = [one for one in examine(layout).findings if one.check == name]
    outcomes = remedied(examine(layout), name).outcomes
    moved = [one for one in outcomes if "main" in one.proposal.change]
    assert before
    assert any("aft, within its bay" in one.proposal.change for one in moved)
    again = [one for one in examine(moved[0].proposal.layout).findings]
    assert len([one for one in again if one.check == name]) < len(before)
