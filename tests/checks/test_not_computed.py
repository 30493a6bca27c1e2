"""A result that was not computed makes each check that reads it unchecked, in its own words."""

from dataclasses import replace
from functools import cache

import pytest
from emptied import RESULTS, Watched, emptied, every_place, place
from overlay import overlaid

from plumbing.checks.kit import Case, Check
from plumbing.checks.limits import limits_in_force
from plumbing.checks.registry import checks
from plumbing.checks.run import asked, judge
from plumbing.results import NotComputed, ResultMissing, Results, got, known, listening

WHY = NotComputed("the result", "taken away", "engine")


@cache
def reads(check: Check) -> tuple[tuple[Case, frozenset[tuple[str, ...]]], ...]:
    """What a check reads in its own two examples."""
    found = []
    for example in (check.bad, check.good):
        case = Case(overlaid(check.starter, example))
        watched = Watched(case)
        asked(check, watched, limits_in_force(case.layout)[check.name])
        found.append((case, frozenset(watched.seen)))
    return tuple(found)


@pytest.mark.parametrize("check", checks(), ids=lambda check: check.name)
def test_a_check_without_its_result_is_unchecked(check):
    """Whatever it reads is taken away, each in turn: it is unchecked for that reason, not clear."""
    for case, routes in reads(check):
        for route in routes:
            verdict = judge(emptied(case, route, WHY), [check])
            assert [one.why for one in verdict.unchecked].count(WHY) == 1, route
            assert not verdict.clear, route


def test_every_result_is_read_by_some_check():
    """Each result, or part of one, that may be missing is read in the test above."""
    seen = {place(route) for check in checks() for _, routes in reads(check) for route in routes}
    assert every_place() - seen == set()
    assert {one for one, *_ in seen} == set(RESULTS)


def test_one_missing_engine_leaves_the_findings_of_the_other():
    """With one of two engines not solved a check is unchecked, and still judges the other."""
    (check,) = (one for one in checks() if one.name == "inlet-suction-too-high")
    case = Case(overlaid("twin-engine", "notes: as it is"))
    first, second = case.peak.engines
    solved = case.peak.engines[second]
    half = Case(case.layout)
    vars(half)["peak"] = replace(case.peak, engines=Results({first: WHY, second: solved}))
    found, missing = asked(check, half, 0.0)
    assert (found.part, missing) == (solved.pump, WHY)


def test_what_was_found_before_a_missing_result_is_kept():
    """A check that finds one fault and then misses a result says both."""
    (check,) = (one for one in checks() if one.name == "cg-leaves-limits-in-flight")
    found = next(one for one in asked(check, reads(check)[0][0], 0.0))

    def find(case, limit):
        yield found
        got(WHY)

    assert asked(replace(check, find=find), reads(check)[0][0], 0.0) == (found, WHY)


def test_reading_a_missing_result_is_heard():
    """Asking for one, going over all and looking at a value are heard; what is there is not."""
    some = Results({"a": 1, "b": WHY})
    with listening() as heard:
        assert [list(some), some["a"], known(1), known(WHY)] == [["a"], 1, True, False]
    assert set(heard) == {WHY}
    with listening() as heard:
        assert some["b"]
    assert heard == [WHY]
    with pytest.raises(ResultMissing, match="taken away"):
        got(WHY)
    assert Results({}, WHY).missing == (WHY,)
    assert Results({"a": 1}, WHY).missing == ()
