"""Fuel in the tanks through time: volumes move by the liquid they gain and lose.

Many scenarios march together, each with its own clock.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from plumbing.errors import SolveError
from plumbing.physics.arrays import Array, Flags
from plumbing.physics.bags import bag_marks
from plumbing.simulation.moment import NO_ENGINES, Balancing, FlameOut, Moment, Stretches
from plumbing.simulation.step import Course, Trial, step
from plumbing.simulation.tankage import Tankage
from plumbing.stopping import going

_MOST_STEPS = 60_000
_MOST_TRIES = 200  # steps in a row that lead nowhere

Stopping = Callable[[Moment], Flags]
"""From a moment to which scenarios are over, shape (S,)."""


def march(
    tanks: Tankage,
    stretches: Stretches,
    volume: Array,
    balance: Balancing,
    *,
    stop: Stopping | None = None,
    see: Callable[[Moment], None] | None = None,
    tolerance: float = 1e-3,
    flame_out: FlameOut = NO_ENGINES,
    hangs_for: float = 60.0,
) -> Moment:
    """March all scenarios to the end of the last stretch, or until they are stopped.

    A scenario whose network finds no state that meets its laws ends there: see `Moment.met`.

    Parameters
    ----------
    tanks : Tankage
        Tanks under the directions of gravity of the run.
    stretches : Stretches
        The run.
    volume : Array
        Fuel in each tank at the start, shape (S, T) [m3].
    balance : callable
        The network.
    stop : callable, optional
        Ends scenarios early.
    see : callable, optional
        Shown every moment, the first included.
    tolerance : float
        Error allowed in a step, as share of each tank's capacity.
    flame_out : FlameOut
        What counts as without fuel; a step ends when a demand has been so for too long.
    hangs_for : float
        A surface that hangs at a port is looked at again after that [s].

    Returns
    -------
    Moment
        State at the end.

    Raises
    ------
    SolveError
        The run is not over after very many steps, or stands still.
    """
    every, all_draw = np.arange(len(volume)), np.ones((len(volume), 1), dtype=bool)
    gas = np.maximum(tanks.capacity - volume, 0.0)
    begin = np.zeros_like(every)
    lying = tanks.lying(np.asarray(volume, float), stretches.direction(every, begin))
    first = balance(every, begin, lying, gas, all_draw)
    state = Moment.first(lying, volume, gas, first)
    start = state
    if see is not None:
        see(state)
    course = Course(tanks, stretches, _marks(tanks), balance, tolerance, flame_out, hangs_for)
    trial = Trial.of(len(volume))
    still = 0
    for _ in range(_MOST_STEPS):
        over = (state.stretch >= len(stretches.duration)) | ~state.met
        if stop is not None:
            over |= stop(state)
        rows = np.flatnonzero(~over)
        if not rows.size:
            break
        going(_share(state, start, stretches, tanks))
        before = state.time[rows]
        state, trial = step(course, state, rows, trial)
        still = 0 if (state.time[rows] > before).any() else still + 1
        if still > _MOST_TRIES:
            raise SolveError(f"the run does not go on after {float(before.min()):.1f} s")
        if see is not None:
            see(state)
    else:
        raise SolveError(f"the run is not over after {_MOST_STEPS} steps")
    return state


def _share(now: Moment, start: Moment, stretches: Stretches, tanks: Tankage) -> float:
    """How much of a run is done: of its time, or of the fuel that can be moved, if that is more."""
    flown = now.time.sum() / max(len(now.time) * float(stretches.duration.sum()), 1e-9)
    held = start.volume.sum()
    most = max(held, len(now.time) * tanks.capacity.sum() - held)
    return float(max(flown, abs(now.volume.sum() - held) / max(most, 1e-12)))


def _marks(tanks: Tankage) -> Array:
    """Volumes at which something changes, shape (D, C, M), padded with infinity [m3]."""
    found = []
    for vessel in tanks.vessels:
        none = np.zeros((len(tanks.down), vessel.pockets))
        low = [one for both in vessel.low.values() for one in both]
        law = bag_marks(vessel.bag.stays) if vessel.bag else ()
        corners = [none + share * vessel.capacity for share in (*law, 0.0, 1.0)]
        found.append(np.stack([*low, *corners], axis=-1))
    most = max(marks.shape[-1] for marks in found)
    padded = [
        np.pad(marks, ((0, 0), (0, 0), (0, most - marks.shape[-1])), constant_values=np.inf)
        for marks in found
    ]
    return np.concatenate(padded, axis=1)
