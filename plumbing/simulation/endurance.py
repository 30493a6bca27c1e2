"""What a flight and its dry run come to: order, air, stranded fuel, endurance, timer."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.engines import STOPS_AFTER
from plumbing.simulation.flight_result import Gasp, History
from plumbing.simulation.profile import Profile
from plumbing.simulation.slugs import Slugs

APPROACH = 60.0  # a circuit and approach before the reserve is touched [s]; common practice
TIMER_STEP = 15.0  # timers are set in steps of this [s]
_LAST = 0.05  # share of what a tank gives that is its last
_NEXT_TO_NOTHING = 0.01  # share of what it held below which a tank gives nothing
_AIR = 1.0 - 1e-6


def failures(history: History, dry: Array) -> tuple[Array, Indices]:
    """When fuel began to fail each pump, for `STOPS_AFTER` at least, shape (P,) [s]; else infinite.

    The moment that shows it comes second, shape (P,).

    Parameters
    ----------
    history : History
        The flight.
    dry : Array
        Time each pump had been without fuel at each moment, shape (N, P) [s].
    """
    stopped = dry >= STOPS_AFTER
    at, pumps = stopped.argmax(axis=0), np.arange(dry.shape[1])
    failed = np.where(stopped.any(axis=0), history.time[at] - dry[at, pumps], np.inf)
    return np.asarray(failed), at


def flame_outs(pumps: Sequence[str], felt: Array) -> dict[str, float | None]:
    """When engines stop [s], by pump, where they feel that fuel fails at times (P,) [s]."""
    return {
        pump: float(time) + STOPS_AFTER if np.isfinite(time) else None
        for pump, time in zip(pumps, felt, strict=True)
    }


def engines_stopped(survey: Survey, stops: Mapping[str, float | None]) -> dict[str, float]:
    """Engines that stop, and when [s]: one with several pumps when the last of them is dry."""
    found = {}
    for engine, feed in survey.feeds.items():
        times = [time for pump, time in stops.items() if pump in (*feed.pumps, engine)]
        known = [time for time in times if time is not None]
        if known and len(known) == len(times):
            found[engine] = max(known)
    return found


def gasps(history: History, dry: Array, profile: Profile, slugs: Slugs) -> dict[str, Gasp]:
    """Air at each pump and its engine."""
    airy = history.share < _AIR
    entered = np.where(airy.any(axis=0), history.time[airy.argmax(axis=0)], np.inf)[None]
    ends, found = np.cumsum(profile.duration), {}
    arrivals = (slugs.at_pump(entered)[0], slugs.at_engine(entered)[0])
    for number, pump in enumerate(history.pumps):
        first, at_engine = (
            float(times[number]) if np.isfinite(times[number]) else None for times in arrivals
        )
        place = min(int(np.searchsorted(ends, first or 0.0, side="right")), len(ends) - 1)
        found[pump] = Gasp(
            first=first,
            at_engine=at_engine,
            longest=float(dry[:, number].max(initial=0.0)),
            phase="" if first is None else profile.phase[place],
        )
    return found


def header_air(
    layout: Layout, history: History, capacity: Array
) -> tuple[dict[str, float | None], dict[str, float]]:
    """When air first enters each header [s], and the most there is in it [m3]."""
    entered: dict[str, float | None] = {}
    most: dict[str, float] = {}
    for number, name in enumerate(history.tanks):
        if layout.tanks[name].role != "header":
            continue
        held = history.volume[:, number]
        entered[name] = _falls_below(history.time, held, held[0] - 1e-4 * capacity[number])
        most[name] = float(capacity[number] - held.min())
    return entered, most


def emptying_order(history: History) -> tuple[tuple[str, float], ...]:
    """Tanks in the order in which they had given all but the last of their fuel, with the time [s].

    A tank that gives only a mix for the last of it would otherwise seem to outlast the header.
    """
    last: list[tuple[str, float]] = []
    for number, name in enumerate(history.tanks):
        held = history.volume[:, number]
        gives = held[0] - held[-1]
        if gives > _NEXT_TO_NOTHING * held[0]:
            spent = _falls_below(history.time, held, held[-1] + _LAST * gives)
            last.append((name, float(history.time[-1]) if spent is None else spent))
    return tuple(sorted(last, key=lambda pair: pair[1]))


def _falls_below(time: Array, held: Array, mark: float) -> float | None:
    """When a volume first falls below a mark, between the moments around it [s]."""
    below = np.flatnonzero(held < mark)
    if not below.size or below[0] == 0:
        return float(time[0]) if below.size else None
    at = int(below[0])
    part = (held[at - 1] - mark) / (held[at - 1] - held[at])
    return float(time[at - 1] + part * (time[at] - time[at - 1]))


def reserve_of(layout: Layout, usable: float) -> float:
    """Fuel to be left at touchdown: the greater of a share and a time at full throttle [m3]."""
    full = layout.full_flow
    return max(layout.reserve.share * usable, layout.reserve.full_throttle * full)


def moment_of_reserve(history: History, usable: float, reserve: float) -> float:
    """When only the reserve is left [s]; the start where there never was more."""
    burnt = history.burnt.sum(axis=1)
    return float(np.interp(usable - reserve, burnt, history.time)) if usable > reserve else 0.0


def timer_setting(to_reserve: float) -> float:
    """Timer from take-off [s]."""
    return max(0.0, math.floor((to_reserve - APPROACH) / TIMER_STEP) * TIMER_STEP)
