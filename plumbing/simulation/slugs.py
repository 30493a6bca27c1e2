"""Air travels through lines as a slug: it arrives when what stood before it has been drawn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.network.lines import LineUse
from plumbing.network.roles import Role
from plumbing.physics.arrays import Array, Flags, Indices

Way = tuple[str, ...]  # lines, in order


@frozen(eq=False)
class Slugs:
    """Lines between tanks and engines in S scenarios of a run of K stretches, with P demands.

    Plug flow: no slug overtakes, mixes or breaks up, and pumps draw all they are meant to.

    Attributes
    ----------
    duration : Array
        Of each stretch, shape (K,) [s].
    flow : Array
        Drawn by each demand in each stretch, shape (S or 1, K, P) [m3/s].
    to_pump, to_engine : Array
        Volume that a demand draws before what enters the lines is there, and at its engine,
        shape (S or 1, P) [m3].
    """

    duration: Array
    flow: Array
    to_pump: Array
    to_engine: Array

    def of(self, scenario: int) -> Slugs:
        """The same for one scenario alone."""
        flow, to_pump, to_engine = (
            one[[scenario if len(one) > 1 else 0]]
            for one in (self.flow, self.to_pump, self.to_engine)
        )
        return replace(self, flow=flow, to_pump=to_pump, to_engine=to_engine)

    def at_pump(self, entered: Array) -> Array:
        """When what enters the lines at a time arrives at each demand.

        Parameters
        ----------
        entered : Array
            Shape (S, P) [s]; infinite for never.

        Returns
        -------
        Array
            Shape (S, P) [s]; infinite where it does not arrive within the run.
        """
        return self._after(entered, self.to_pump)

    def at_engine(self, entered: Array) -> Array:
        """When what enters the lines at a time arrives at each demand's engine; see `at_pump`."""
        return self._after(entered, self.to_engine)

    def felt(self, failed: Array, gas: Flags) -> Array:
        """When each demand's engine feels that fuel fails, shape (S, P) [s].

        Parameters
        ----------
        failed : Array
            When it fails, shape (S, P) [s]; infinite for never.
        gas : Flags
            Whether gas comes instead, shape (S, P); a pump that starves is felt at once.
        """
        return np.asarray(np.where(gas, self.at_engine(failed), failed))

    def _after(self, entered: Array, volume: Array) -> Array:
        if not volume.any():
            return entered
        last = len(self.duration) - 1
        begins = np.concatenate([[0.0], np.cumsum(self.duration)])
        flow = np.broadcast_to(self.flow, (len(entered), *self.flow.shape[1:]))
        drawn = np.cumsum(flow * self.duration[:, None], axis=1)
        known = np.where(np.isfinite(entered), entered, 0.0)
        at = np.clip(np.searchsorted(begins, known, side="right") - 1, 0, last)
        goal = _at(drawn, at) - _at(flow, at) * (begins[at + 1] - known) + volume
        there = (drawn < goal[:, None]).sum(axis=1)
        found = np.minimum(there, last)
        over = (_at(drawn, found) - goal) / np.maximum(_at(flow, found), 1e-30)
        arrives = (there <= last) & np.isfinite(entered)
        return np.asarray(np.where(arrives, begins[found + 1] - over, np.inf))


def slugs_for(
    layout: Layout,
    survey: Survey,
    demands: tuple[str, ...],
    duration: Array,
    flow: Array,
    leaks: Sequence[str] = ("",),
) -> Slugs:
    """Lines of a layout during a run.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    demands : tuple of str
        Pumps, or engines that draw by themselves.
    duration, flow : Array
        As in `Slugs`.
    leaks : sequence of str
        Of each scenario the line at whose end air enters, or the fill port through which; empty
        where it enters from the tanks.

    Notes
    -----
    Of several ways to a pump the one with the least volume counts: air arrives no earlier by
    another. A line that several pumps draw through counts for each with an equal part. Filters and
    pumps count for nothing.
    """
    ways = [_ways(survey, demand) for demand in demands]
    drawn = Counter(line for some in ways for line in {line for way in some for line in way})
    volume = {line: _volume(survey.lines[line]) / many for line, many in drawn.items()}
    to_pump, to_engine = np.zeros((2, len(leaks), len(demands)))
    if layout.simulation.slugs:
        for scenario, leak in enumerate(leaks):
            for number, some in enumerate(ways):
                behind = _behind(survey, some, leak)
                suction = [[one for one in way if _sucked(survey, one)] for way in behind]
                to_pump[scenario, number] = _least(suction, volume)
                to_engine[scenario, number] = _least(behind, volume)
    return Slugs(duration, flow, to_pump, to_engine)


def _ways(survey: Survey, demand: str) -> list[Way]:
    """Lines from each tank through a demand to the engines it feeds."""
    return [
        way.path.lines
        for name, feed in survey.feeds.items()
        if demand in (*feed.pumps, name)
        for tank in survey.tanks_feeding(name)
        if (way := survey.fuel_path(tank, name)) is not None and demand in way.path.parts
    ]


def _behind(survey: Survey, ways: Sequence[Way], leak: str) -> Sequence[Way]:
    """What is left of ways behind a leak, from the last tank on; all of them without a leak."""
    if not leak:
        return ways
    if leak in survey.fills:
        routes = [one.path.lines for one in survey.fills[leak].engines]
    else:
        routes = [way[way.index(leak) + 1 :] for way in ways if leak in way]
    left = [
        way[way.index(first) :]
        for route in routes
        for way in ways
        if (first := next((line for line in route if line in way), ""))
    ]
    return [*left, *(way for way in ways if any(one[-len(way) :] == way for one in left))]


def _sucked(survey: Survey, line: str) -> bool:
    return survey.lines[line].role is Role.SUCTION


def _least(ways: Iterable[Iterable[str]], volume: Mapping[str, float]) -> float:
    return min((sum(volume[line] for line in way) for way in ways), default=0.0)


def _volume(use: LineUse) -> float:
    """What a line holds [m3]; nothing if its bore is not known."""
    return 0.25 * np.pi * use.bore**2 * use.length if use.bore is not None else 0.0


def _at(values: Array, place: Indices) -> Array:
    """Value of each demand at its own place along the stretches, shape (S, P)."""
    return np.take_along_axis(values, place[:, None], axis=1)[:, 0]
