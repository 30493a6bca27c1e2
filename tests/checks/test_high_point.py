"""The height of a hump in the line to the pump, by looking at the heights."""

import pytest

from plumbing.checks.suction.high_point_before_pump import _highest


@pytest.mark.parametrize(
    ("heights", "rise"),
    [
        ([], 0.0),
        ([5.0], 0.0),
        ([3.0, 2.0, 1.0], 0.0),
        ([1.0, 2.0, 3.0], 0.0),
        ([0.0, 4.0, 0.0], 4.0),
        ([0.0, 4.0, 3.0], 1.0),
        ([3.0, 4.0, 0.0], 1.0),
        ([0.0, 2.0, 1.0, 5.0, 2.0, 4.0, 3.0], 3.0),
    ],
)
def test_rise_of_the_highest_hump(heights, rise):
    """A hump rises over the lower ground before and behind it; a slope has none."""
    assert _highest(heights)[1] == rise
