import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbing.geometry.packing import smallest_hole
from plumbing.geometry.passages import edge_distance, pitch, share_removed, web, worst_share

GRAHAM = "R.L. Graham et al., Discrete Mathematics 181 (1998), optimal ratios; value from memory"
PLATE = [(0.0, 0.0), (0.2, 0.0), (0.2, 0.1), (0.0, 0.1)]


@pytest.mark.outside(GRAHAM, quantity="ratio of hole to tube, equal tubes")
@pytest.mark.parametrize(
    ("count", "ratio"),
    [(1, 1.0), (2, 2.0), (3, 2.1547), (4, 2.4142), (5, 2.7013), (6, 3.0), (7, 3.0)],
)
def test_equal_tubes(count, ratio):
    """From one to seven equal tubes need the known smallest hole."""
    size, _ = smallest_hole([0.006] * count)
    assert size / 0.006 == pytest.approx(ratio, abs=1e-4)


@pytest.mark.outside("Descartes' circle theorem", quantity="hole round three unequal tubes")
def test_three_unequal_tubes():
    """Three tubes that touch each other and the hole obey the circle theorem."""
    k = 1.0 / np.array([3.0, 2.5, 2.0])
    inner = k.sum() - 2.0 * np.sqrt(k[0] * k[1] + k[1] * k[2] + k[2] * k[0])
    assert smallest_hole([6.0, 5.0, 4.0])[0] == pytest.approx(-2.0 / inner, rel=1e-6)


@settings(max_examples=12, deadline=None)
@given(st.lists(st.floats(0.002, 0.01), min_size=1, max_size=6))
def test_what_is_packed_fits(diameters):
    """Tubes neither overlap nor stand out, and more area than the tubes' is needed."""
    size, centres = smallest_hole(diameters)
    radii = np.array(diameters) / 2
    assert (np.linalg.norm(centres, axis=1) + radii).max() <= size / 2 * (1 + 1e-9)
    apart = pitch(centres)
    assert (apart - (radii[:, None] + radii)).min() >= -1e-9 * size
    assert size**2 >= (4 * radii**2).sum() * (1 - 1e-9)


@pytest.mark.parametrize("wrong", [[], [0.0], [-1.0, 1.0], [np.nan], [1.0] * 13])
def test_impossible_bundles_are_refused(wrong):
    """Nothing, nonsense and too many are refused in words."""
    with pytest.raises(ValueError, match="from 1 to 12 tubes"):
        smallest_hole(wrong)


def test_edge_distance_and_pitch():
    """Distances are read off a plate of 200 by 100 mm."""
    centres = [(0.05, 0.03), (0.09, 0.06), (0.25, 0.05)]
    assert edge_distance(PLATE, centres) == pytest.approx([0.03, 0.04, -0.05])
    assert pitch(centres)[0, 1] == pytest.approx(0.05)
    assert np.isinf(pitch(centres).diagonal()).all()


@pytest.mark.outside("hand: chords of circles", quantity="share of a section removed")
def test_share_of_a_section():
    """A section through a hole loses its diameter, beside its centre a chord, twice only once."""
    centre, diameter = [(0.05, 0.03)], [0.02]
    assert share_removed(PLATE, centre, diameter, (0.05, 0.03), np.pi / 2) == pytest.approx(0.2)
    assert share_removed(PLATE, centre, diameter, (0.05, 0.03), 0.0) == pytest.approx(0.1)
    assert share_removed(PLATE, centre, diameter, (0.056, 0.05), np.pi / 2) == pytest.approx(0.16)
    twice = share_removed(PLATE, centre * 2, diameter * 2, (0.05, 0.03), np.pi / 2)
    assert twice == pytest.approx(0.2)
    assert share_removed(PLATE, centre, diameter, (0.5, 0.5), 0.0) == 1.0
    assert worst_share(PLATE, [(0.05, 0.03), (0.05, 0.07)], [0.02, 0.01]) == pytest.approx(
        [0.3, 0.3]
    )


def test_only_the_web_that_is_drilled_counts():
    """In a frame the opening is no wood: the depth ends at it."""
    frame = [(0, 0), (4, 0), (4, 4), (3, 4), (3, 1), (1, 1), (1, 4), (0, 4)]
    assert web(frame, (0.5, 3.0), 0.0) == pytest.approx((-0.5, 0.5))
    assert web(frame, (2.0, 3.0), 0.0) == (0.0, 0.0)
