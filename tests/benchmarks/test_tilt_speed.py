"""How long a map of unusable fuel takes; never asserted."""

import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.below import volume_below
from plumbing.layout import read, starter
from plumbing.network import survey
from plumbing.simulation.tilt import tilt

RNG = np.random.default_rng(7)


def test_one_level_in_a_thousand_attitudes(benchmark):
    """About 2 000 triangles, 1 000 directions."""
    mesh = solids.capsule(0.3, 0.1)
    down = RNG.normal(size=(1000, 3))
    down /= np.linalg.norm(down, axis=1)[:, None]
    benchmark(volume_below, mesh, down, 0.0)


@pytest.mark.parametrize("name", ["single-main", "chained-pair"])
def test_map_of_a_layout(benchmark, name):
    """All tanks, every 5 degrees: 2 701 attitudes."""
    layout = read(starter(name))
    benchmark(tilt, layout, survey(layout))
