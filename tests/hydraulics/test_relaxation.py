"""Fluids and flows worked out in turn: how fast the way to an answer is gone."""

import numpy as np
import pytest

from plumbing.hydraulics.loops import ROUNDS
from plumbing.hydraulics.relaxation import Relaxation


@pytest.mark.parametrize("slope", [-3.0, -0.9, 0.0, 0.9, 0.999])
def test_fluids_settle_within_the_rounds(slope):
    """Whether what follows swings, settles or creeps, the share that follows itself is reached."""
    share, answer = np.array([[0.1]]), 0.6
    relaxation = Relaxation.begin(share)
    for turn in range(ROUNDS):
        mix = np.clip(answer + slope * (share - answer), 0.0, 1.0)
        share = relaxation.next(share, mix, turn, np.array([False]))
    assert share[0, 0] == pytest.approx(answer, abs=1e-3)
