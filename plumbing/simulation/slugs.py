"""Air travels through lines as a slug: it arrives when what stood before it has been drawn."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.network.roles import Role
from plumbing.physics.arrays import Array, Flags, Indices


@dataclass(frozen=True, slots=True, eq=False)
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
        Volume of the lines from the port where air enters to the demand, and on to its engine,
        shape (P,) [m3].
    """

    duration: Array
    flow: Array
    to_pump: Array
    to_engine: Array

    def of(self, scenario: int) -> Slugs:
        """The same for one scenario alone."""
        one = self.flow[[scenario if len(self.flow) > 1 else 0]]
        return replace(self, flow=one)

    def beyond_pump(self) -> Slugs:
        """The same for air that enters at the pump."""
        return replace(
            self, to_pump=np.zeros_like(self.to_pump), to_engine=self.to_engine - self.to_pump
        )

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
    layout: Layout, survey: Survey, demands: tuple[str, ...], duration: Array, flow: Array
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

    Notes
    -----
    Way: from the tank, and to the engine, with the least volume of line between: from another tank
    air arrives no earlier. Filters and pumps count for nothing.
    """
    to_pump, to_engine = np.zeros(len(demands)), np.zeros(len(demands))
    for number, demand in enumerate(demands):
        ways = [
            (_volume(survey, way.path.lines, (Role.SUCTION,)), _volume(survey, way.path.lines))
            for name, feed in survey.feeds.items()
            if demand in (*feed.pumps, name)
            for tank in survey.tanks_feeding(name)
            if (way := survey.fuel_path(tank, name)) is not None and demand in way.path.parts
        ]
        if ways and layout.simulation.slugs:
            to_pump[number], to_engine[number] = np.min(ways, axis=0)
    return Slugs(duration, flow, to_pump, to_engine)


def _volume(survey: Survey, lines: tuple[str, ...], roles: tuple[Role, ...] = tuple(Role)) -> float:
    used = [survey.lines[name] for name in lines]
    return sum(
        0.25 * np.pi * one.bore**2 * one.length
        for one in used
        if one.bore is not None and one.role in roles
    )


def _at(values: Array, place: Indices) -> Array:
    """Value of each demand at its own place along the stretches, shape (S, P)."""
    return np.take_along_axis(values, place[:, None], axis=1)[:, 0]
