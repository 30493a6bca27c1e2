"""Aircraft that a careful builder would fly are left in peace."""

from functools import cache

import pytest

from plumbing.checks.examined import examine
from plumbing.findings import Severity

from .careful import careful

MANY = 60
ONE_IN = 10  # aircraft that may share one false alarm


@cache
def alarms(seed):
    """What is said above advice of the aircraft of that seed."""
    findings = examine(careful(seed)).findings
    return [f"{seed}: {one.what}" for one in findings if one.severity is not Severity.ADVICE]


@pytest.mark.parametrize(
    "many",
    [pytest.param(20, marks=pytest.mark.slow), pytest.param(MANY, marks=pytest.mark.evening)],
)
def test_at_most_one_alarm_in_ten_careful_aircraft(many):
    """Of sixty aircraft, twelve of each starter, six findings above advice at most."""
    raised = [one for seed in range(many) for one in alarms(seed)]
    assert len(raised) <= many // ONE_IN, "\n".join(raised)


@pytest.mark.parametrize("seed", [0, 1, 3])
def test_a_careful_aircraft_is_left_in_peace(seed):
    """The same for one aircraft of three starters, of which nothing at all is above advice."""
    assert alarms(seed) == []


def test_no_two_careful_aircraft_are_alike():
    """Engine flow, tank length and tube length of one starter's twelve all differ."""
    every = [careful(seed) for seed in range(0, MANY, 20)]
    engines = {one.engines["engine"].full_flow for one in every}
    tanks = {one.tanks["port"].ports["feed"].pickup.reach for one in every}
    tubes = {tuple(line.cut_length for line in one.lines.values()) for one in every}
    assert len(engines) == len(tanks) == len(tubes) == len(every)
