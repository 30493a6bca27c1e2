"""What unequal pressures at the outlets move between tanks in flight."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from plumbing.geometry.attitude import gravity_body
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.simulation.flight import feeding_for
from plumbing.simulation.profile import Profile

CRUISE = 0.5  # throttle at which it is worked out [-]; common practice
_LEAST = 1e-10


def moved_by(
    layout: Layout, survey: Survey, profile: Profile, pressures: Mapping[str, float]
) -> dict[str, float]:
    """Gain of each tank at cruise with these outlet pressures, over that with none [m3/s].

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    profile : Profile
        Any flight; its first stretch is replaced by level cruise.
    pressures : mapping of str to float
        Gauge pressure at outlets [Pa]; others are at ambient.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank.
    """
    level = replace(
        profile.only(np.zeros(1, dtype=np.intp)),
        gravity=gravity_body(0.0)[None],
        throttle=np.array([CRUISE]),
        flow=None,
    )
    feeding = feeding_for(layout, survey, level)
    outside = np.zeros((2, *feeding.outside.shape[1:]))
    nodes = feeding.plumbed.circuit.nodes
    for name, pressure in pressures.items():
        if f"{name}.tube" in nodes:
            outside[1, :, nodes.index(f"{name}.tube")] = pressure
    both = replace(feeding, outside=outside)
    half = 0.5 * np.array([tank.fill for tank in layout.tanks.values()])
    held = np.repeat((half * feeding.tanks.capacity)[None], 2, axis=0)
    rows = np.arange(2)
    rate = both.balance(rows, np.zeros(2, dtype=np.intp), held).rate
    gained = (rate[1] - rate[0]).tolist()
    return {
        name: gain for name, gain in zip(layout.tanks, gained, strict=True) if abs(gain) > _LEAST
    }
