"""The cure each check shows is tried on the whole aircraft: it must not spoil anything else."""

from functools import cache

import pytest
from overlay import overlaid

from plumbing.checks.case import Case
from plumbing.checks.kit import Check
from plumbing.checks.registry import checks
from plumbing.checks.run import judge
from plumbing.findings import Severity
from plumbing.model.layout import Layout


def found(layout: Layout) -> frozenset[tuple[str, str]]:
    """Checks and parts of all that is worse than advice."""
    findings = judge(Case(layout)).findings
    return frozenset((one.check, one.part) for one in findings if one.severity != Severity.ADVICE)


@cache
def sound(starter: str) -> frozenset[tuple[str, str]]:
    """The same of a starter as it is."""
    return found(overlaid(starter, "{}"))


@pytest.mark.slow
@pytest.mark.parametrize("check", checks(), ids=lambda check: check.name)
def test_the_good_example_is_good_for_the_whole_aircraft(check: Check):
    """Every check is asked of the example; nothing above advice comes with the cure."""
    assert found(overlaid(check.starter, check.good)) <= sound(check.starter)
