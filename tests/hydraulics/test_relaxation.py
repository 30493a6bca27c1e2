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
        share = relaxation.next(share, mix, turn, back=np.array([False]), even=np.array([True]))
    assert share[0, 0] == pytest.approx(answer, abs=1e-3)


@pytest.mark.parametrize(
    "slopes",
    [
        [[0.0, 1.5, 0.0], [-1.5, 0.0, 0.0], [0.0, 0.0, 0.5]],
        [[0.9, 0.4, 0.0], [-0.4, 0.9, 0.3], [0.0, -0.3, 0.9]],
        [[0.5, -1.0, 1.0], [1.0, 0.5, -1.0], [-1.0, 1.0, 0.5]],
    ],
)
def test_nodes_that_chase_each_other_settle(slopes):
    """Three nodes of a ring, each asking for what another had a round ago.

    The last two go round for ever if every node is relaxed by itself.
    """
    share, answer = np.array([[0.1, 0.3, 0.9]]), np.array([0.5, 0.45, 0.55])
    relaxation = Relaxation.begin(share)
    for turn in range(ROUNDS):
        mix = np.clip(answer + (share - answer) @ np.transpose(slopes), 0.0, 1.0)
        share = relaxation.next(share, mix, turn, back=np.array([False]), even=np.array([True]))
    assert share[0] == pytest.approx(answer, abs=1e-6)
