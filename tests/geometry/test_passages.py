import numpy as np
import pytest

from plumbing.geometry.passages import edge_distance, pitch, share_removed, web

PLATE = [(0.0, 0.0), (0.2, 0.0), (0.2, 0.1), (0.0, 0.1)]


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


def test_only_the_web_that_is_drilled_counts():
    """In a frame the opening is no wood: the depth ends at it."""
    frame = [(0, 0), (4, 0), (4, 4), (3, 4), (3, 1), (1, 1), (1, 4), (0, 4)]
    assert web(frame, (0.5, 3.0), 0.0) == pytest.approx((-0.5, 0.5))
    assert web(frame, (2.0, 3.0), 0.0) == (0.0, 0.0)
