"""The books of a flight: all fuel that was on board is burnt, left or lost overboard."""

from __future__ import annotations

import numpy as np

from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.simulation.books import Books
from plumbing.simulation.demand import engines_of
from plumbing.simulation.flight_result import History
from plumbing.simulation.profile import Profile


def books_of(
    layout: Layout, survey: Survey, profile: Profile, history: History, until: float
) -> Books:
    """Books of a marched flight.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    profile : Profile
        What was marched.
    history : History
        What came of it.
    until : float
        When the books are closed [s].
    """

    def then(values: Array) -> list[float]:
        return [float(np.interp(until, history.time, one)) for one in values.T]

    burnt = dict.fromkeys(layout.engines, 0.0)
    for pump, taken in zip(history.pumps, then(history.burnt), strict=True):
        for engine, part in engines_of(layout, survey, pump).items():
            burnt[engine] += part * taken
    start = history.volume[0].tolist()
    return Books(
        until=until,
        on_board=dict(zip(history.tanks, start, strict=True)),
        burnt=burnt,
        left=dict(zip(history.tanks, then(np.maximum(history.volume, 0.0)), strict=True)),
        lost=_lost(profile, history, until),
    )


def _lost(profile: Profile, history: History, until: float) -> dict[tuple[str, str], float]:
    """Fuel lost through each opening in each phase [m3]; phases of one name are added up."""
    phases = list(dict.fromkeys(profile.phase))
    place = {name: number for number, name in enumerate(phases)}
    which = np.array([place[name] for name in profile.phase])[history.stretch]
    lost: dict[tuple[str, str], float] = {}
    for number, outlet in enumerate(history.outlets):
        clipped = np.minimum(history.time, until)
        so_far = np.interp(clipped, history.time, history.spilt[:, number])
        each = np.bincount(which, np.diff(so_far, prepend=so_far[:1]), len(phases))
        lost |= {
            (outlet, phase): float(volume)
            for phase, volume in zip(phases, each, strict=True)
            if volume != 0.0
        }
    return lost
