"""The drain-down on the bench: full tanks, aircraft level, a steady flow until air comes."""

from __future__ import annotations

import numpy as np

from plumbing.geometry.attitude import gravity_body
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.results import NotComputed, result_of
from plumbing.simulation.flight import fly
from plumbing.simulation.flight_result import Flown
from plumbing.simulation.profile import Profile

_STRETCH = 60.0  # flown again until the tanks are dry [s]


def rundown(
    layout: Layout,
    survey: Survey,
    flow: float | None = None,
    pitch: float = 0.0,
    roll: float = 0.0,
) -> Flown | NotComputed:
    """Draw the tanks down at a steady flow.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    flow : float, optional
        Flow of all pumps together [m3/s]; full flow by default.
    pitch, roll : float
        Attitude, nose up and starboard down [rad].

    Returns
    -------
    Flown or NotComputed
        The run, of which the dry run counts, or why nothing can be drawn.
    """
    one = np.ones(1)
    profile = Profile(
        name="drain-down",
        phase=("drain-down",),
        duration=_STRETCH * one,
        throttle=one,
        gravity=gravity_body(pitch, roll)[None],
        airspeed=0.0 * one,
        airborne=np.ones(1, dtype=bool),
        gear_up=np.zeros(1, dtype=bool),
        flow=None if flow is None else flow * one,
    )
    return result_of("drain-down", lambda: fly(layout, survey, profile))
