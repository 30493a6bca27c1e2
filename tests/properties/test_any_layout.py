"""Any layout, however bad: a result or one of our own errors, and every number sound."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from .judged import judged
from .making import layout_text

QUICK = settings(
    max_examples=8,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)


@pytest.mark.slow
@QUICK
@given(st.integers(0, 10**6))
def test_any_layout_is_flown(seed):
    """Any layout ends in a result or our own error; mass closes and states obey their laws."""
    assert judged(layout_text(seed), fly=True, thorough=False).wrong == ()


@pytest.mark.slow
def test_twelve_tanks_whose_fuel_turns_a_line_round_have_a_steady_state():
    """What the soak found: liquid turned a line one way and air the other, round after round."""
    assert judged(layout_text("3 20"), fly=True, thorough=False).wrong == ()


@pytest.mark.quick("400", "800")
@pytest.mark.parametrize("case", [320, 400, 800, 1440])
def test_any_layout_is_examined(case):
    """A random layout is judged by every check, and what is written is finite and valid JSON."""
    assert judged(layout_text(f"1 {case}"), fly=True, thorough=True).wrong == ()


@pytest.mark.parametrize("case", ["verdict 37", "verdict 82", "verdict 132"])
def test_a_state_without_an_answer_is_never_passed(case):
    """Where states of peak flow have no answer, the verdict says so and does not pass."""
    found = judged(layout_text(case), fly=False, thorough=True)
    assert found.unconverged
    assert found.wrong == ()


@pytest.mark.slow
def test_layouts_are_mostly_flown():
    """The generator writes layouts that can be read: faults in one of ten at most."""
    outcomes = [judged(layout_text(f"mix {n}"), fly=False, thorough=False) for n in range(20)]
    assert sum(one.outcome == "faults in the file" for one in outcomes) <= 2
