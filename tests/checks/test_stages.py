"""Statements with evidence: what is open is due at its stage, a finding from then on."""

from dataclasses import replace
from functools import cache

import pytest
from overlay import overlaid

from plumbing.checks.evidence import beyond, proofs, unmet
from plumbing.checks.kit import Case
from plumbing.checks.registry import checks
from plumbing.checks.run import Verdict, judge
from plumbing.layout import STARTERS, load, read, starter
from plumbing.layout.stated import stated
from plumbing.model.layout import Layout
from plumbing.stage import STAGES

NAMED = {check.name: check for check in checks()}
TANK, BRIEFED = NAMED["printed-tank-not-sealed"], NAMED["helper-not-briefed"]
PRINTED = "tanks: {main: {wall: {kind: printed}}}"
GOOD = """
measured:
  tank: {what: tank-pressure, part: main, pressure: 15 kPa, on: 2026-05-01, by: builder,
    instrument: water column}
"""


def verdict(fragment: str, *selected) -> Verdict:
    """Verdict of checks on the plainest starter with a fragment laid over it."""
    return judge(Case(overlaid("single-main", fragment)), selected)


@pytest.mark.parametrize("said", ["open", "planned", None])
@pytest.mark.parametrize("stage", STAGES)
def test_an_open_statement_is_due_and_then_a_finding(stage: str, said: str | None) -> None:
    """Before its stage it is due, from then on it is found; it is never clear, nor unchecked."""
    helper = "null" if said is None else said
    found = verdict(f"stage: {stage}\nsafety: {{helper-briefed: {helper}}}", BRIEFED)
    assert [one.statement for one in found.due] == ["safety.helper-briefed"] * (stage != "flown")
    assert [one.check for one in found.findings] == [BRIEFED.name] * (stage == "flown")
    assert not found.clear
    assert not found.unchecked


@pytest.mark.parametrize(
    "said",
    [
        "done",
        "done 2026-05-01 by builder",
        "measured 21 kPa on 2026-05-01 by builder with water column",
        "{is: done 2026-05-01 by builder, note: second try}",
    ],
)
@pytest.mark.parametrize("stage", STAGES)
def test_what_was_done_is_clear_at_every_stage(stage: str, said: str) -> None:
    """What somebody answers for is neither due nor found, whatever the stage."""
    found = verdict(f"stage: {stage}\nsafety: {{helper-briefed: {said}}}", BRIEFED)
    assert found.clear == (BRIEFED.name,)


def test_each_statement_of_a_check_has_its_own_stage() -> None:
    """A printed tank is sealed when it is built, and proved on the bench."""
    found = verdict(f"stage: built\n{PRINTED}", TANK)
    assert [one.what for one in found.findings] == ["Printed tank main is not sealed inside."]
    assert [(one.statement, one.stage) for one in found.due] == [
        ("tanks.main.wall.leak-tested", "bench-tested")
    ]


@pytest.mark.parametrize("name", STARTERS)
def test_starters_leave_everything_open(name: str) -> None:
    """A fresh file claims nothing: it is a drawing, and no statement in it is more than open."""
    layout = read(starter(name))
    assert layout.stage == "drawing"
    assert stated(layout) == {}
    assert not layout.papers.placards
    assert not layout.measured


def test_a_done_without_date_is_named() -> None:
    """A bare done counts, but it is advice to say when and by whom."""
    (found,) = verdict("papers: {lines-labelled: done}", NAMED["done-without-date"]).findings
    assert "papers.lines-labelled" in found.what


def test_a_passed_reading_is_the_evidence() -> None:
    """A printed tank that stood 15 kPa (practice: 10 to 15 kPa) needs no further statement."""
    bare = "stage: bench-tested\ntanks: {main: {wall: {kind: printed, sealed-inside: done}}}"
    assert verdict(bare, TANK).findings
    assert verdict(bare + GOOD, TANK).clear == (TANK.name,)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("pressure: 15 kPa", "pressure: 6 kPa"),  # under the limit of 12 kPa
        ("by: builder,", ""),
        ("on: 2026-05-01,", ""),
        ("instrument: water column", "state: dry"),
        ("part: main", "part: header"),
    ],
)
def test_a_reading_that_failed_or_is_not_signed_proves_nothing(old: str, new: str) -> None:
    """It must pass, name its tank, and say when, by whom and with what."""
    bare = "stage: bench-tested\ntanks: {main: {wall: {kind: printed, sealed-inside: done}}}"
    assert old in GOOD
    assert verdict(bare + GOOD.replace(old, new), TANK).findings


def test_a_reading_beyond_its_limit_is_found_even_where_the_file_says_done() -> None:
    """What was measured outweighs what was ticked."""
    text = "papers: {tests-recorded: done 2026-05-01 by builder}" + GOOD.replace("15 kPa", "60 kPa")
    (found,) = verdict(text, NAMED["reading-beyond-limit"]).findings
    assert found.part == "tank"


@cache
def bench_tested() -> Layout:
    """A demo whose bench statements rest on its readings alone."""
    return load("layouts/chained-pair.yaml")


def test_readings_of_a_demo_prove_its_bench_statements() -> None:
    """The bench statements of the chained pair stay open in the file; its readings prove them."""
    case = Case(bench_tested())
    assert not unmet(case)
    assert not list(beyond(case))
    assert {one.statement for one in proofs(case)} == {
        *(f"tanks.{name}.wall.leak-tested" for name in ("port", "starboard", "header")),
        "valves.shut-off.vacuum-rated",
        "fill-ports.fill.leak-tested",
        "papers.feed-order-tested",
        "papers.tests-recorded",
    }


def test_tanks_that_ran_dry_the_other_way_round_prove_no_order() -> None:
    """The order is proved by the times on the bench, not by there being times."""
    layout = bench_tested()
    swapped = {"port": "starboard", "starboard": "port"}
    readings = {
        name: replace(one, part=swapped.get(one.part or "", one.part))
        if one.what == "drain-time"
        else one
        for name, one in layout.measured.items()
    }
    proved = {one.statement for one in proofs(Case(replace(layout, measured=readings)))}
    assert "papers.feed-order-tested" not in proved
    assert "tanks.port.wall.leak-tested" in proved


def test_one_reading_short_the_tests_are_not_recorded() -> None:
    """Every limit on the cards wants its reading."""
    layout = bench_tested()
    readings = {name: one for name, one in layout.measured.items() if one.what != "stop-time"}
    short = Case(replace(layout, measured=readings))
    assert [mark.what for mark in unmet(short)] == ["stop-time"]
    assert "papers.tests-recorded" not in {one.statement for one in proofs(short)}
