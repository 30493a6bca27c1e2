"""Slosh: the surface in each tank follows the force felt on board late, and swings past it.

The surface of each tank swings for itself and stays plane; its direction changes piece by piece.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.findings import Assumption
from plumbing.geometry.attitude import direction
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array
from plumbing.physics.slosh import swung
from plumbing.simulation.flight_result import History
from plumbing.simulation.profile import Profile
from plumbing.simulation.slosh_modes import natural_frequencies, swings_at_all

_PIECES = 8  # to a swing, of the quickest that has not come to rest
_AT_REST = 0.05  # a surface within 3 degrees of rest is at rest [rad]


def with_slosh(layout: Layout, profile: Profile, still: History) -> Profile:
    """The same flight in as many pieces as the swinging surfaces need.

    Parameters
    ----------
    layout : Layout
        The layout, with T tanks.
    profile : Profile
        The flight, K stretches.
    still : History
        The same flown with surfaces that follow at once: it says how much fuel there is to swing.
    """
    felt, damping = direction(profile.gravity), layout.simulation.slosh_damping
    begun = np.searchsorted(still.stretch, np.arange(len(felt)))
    volume = still.volume[np.minimum(begun, len(still.stretch) - 1)]
    tanks = list(zip(layout.tanks.values(), volume.T, strict=True))
    omega = np.stack([natural_frequencies(*one, profile.gravity) for one in tanks], axis=1)
    free = np.stack([swings_at_all(*one) for one in tanks], axis=1)[..., None]
    lies, speed = np.repeat(felt[:1], len(tanks), axis=0), np.zeros((len(tanks), 3))
    durations, surfaces = [], []
    for number, lasts in enumerate(profile.duration):
        swing = free[number] * (lies - felt[number]), free[number] * speed, omega[number]
        pieces = _pieces(*swing, damping, float(lasts))
        middle = (np.cumsum(pieces) - 0.5 * pieces)[:, None, None]
        durations.append(pieces)
        surfaces.append(direction(felt[number] + swung(*swing, damping, middle)[0]))
        offset, speed = swung(*swing, damping, lasts)
        lies = felt[number] + offset
    many = np.repeat(np.arange(len(felt)), [len(one) for one in durations])
    words = f"first mode of each tank, surfaces plane, damping {damping:.0%} of the critical"
    source = "Abramson, NASA SP-106, 1966; what is not stated of the damping is our choice"
    return replace(
        profile.only(many),
        duration=np.concatenate(durations),
        surface=np.concatenate(surfaces),
        assumptions=(*profile.assumptions, Assumption("flight: slosh", words, source)),
    )


def _pieces(offset: Array, speed: Array, omega: Array, damping: float, lasts: float) -> Array:
    """Pieces of a stretch [s]: short ones until all surfaces, (T, 3) each, rest; then one more."""
    decay, turns = damping * omega, omega * np.sqrt(1.0 - damping**2)
    reach = np.hypot(offset, (speed + decay * offset) / np.where(omega > 0.0, turns, np.inf))
    moves = (omega > 0.0) & (reach > _AT_REST)
    rests = np.log(reach[moves] / _AT_REST) / decay[moves]
    pieces: list[float] = []
    begun = 0.0
    for quick, rest in sorted(zip(omega[moves].tolist(), rests.tolist(), strict=True))[::-1]:
        piece = 2.0 * np.pi / (_PIECES * quick)
        many = max(int((min(rest, lasts) - begun) / piece), 0)
        pieces += [piece] * many
        begun += many * piece
    return np.array([*pieces, lasts - begun])
