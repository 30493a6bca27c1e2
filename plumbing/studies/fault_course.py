"""A batch of faults as it went: histories, one scenario each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.engines import STOPS_AFTER
from plumbing.simulation.slugs import Slugs

_AIR = 1.0 - 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """A batch as it went: M moments, S scenarios, P pumps, T tanks.

    Attributes
    ----------
    pumps : tuple of str
        Names.
    time, stretch : Array
        Shape (M, S) [s], and the stretch each is in.
    volume : Array
        Shape (M, S, T) [m3].
    burnt, mix, dry : Array
        Fuel taken [m3], liquid share of what is drawn, time without fuel [s], shape (M, S, P).
    gas : Flags
        Whether the gas in what is drawn stops an engine by itself, shape (M, S, P).
    slugs : Slugs
        The lines that air passes on its way to the engines.
    """

    pumps: tuple[str, ...]
    time: Array
    stretch: Indices
    volume: Array
    burnt: Array
    mix: Array
    dry: Array
    gas: Flags
    slugs: Slugs

    def stops(self, scenario: int) -> dict[str, float]:
        """Pumps that are without fuel for long enough to stop their engine, and when [s]."""
        dry, time = self.dry[:, scenario], self.time[:, scenario]
        failed, gas = np.full((1, len(self.pumps)), np.inf), self.gas[-1:, scenario].copy()
        for number in range(len(self.pumps)):
            at = np.flatnonzero(dry[:, number] >= STOPS_AFTER)
            if at.size:
                failed[0, number] = time[at[0]] - dry[at[0], number]
                gas[0, number] = self.gas[at[0], scenario, number]
        return self._known(self.slugs.of(scenario).felt(failed, gas)[0] + STOPS_AFTER)

    def air(self, scenario: int) -> dict[str, float]:
        """Pumps that air reaches, and when [s]: at the beginning of the step that brings it."""
        mix, time = self.mix[:, scenario], self.time[:, scenario]
        entered = np.full((1, len(self.pumps)), np.inf)
        for number in range(len(self.pumps)):
            at = np.flatnonzero(mix[:, number] < _AIR)
            if at.size:
                entered[0, number] = time[max(at[0] - 1, 0)]
        return self._known(self.slugs.of(scenario).at_pump(entered)[0])

    def _known(self, times: Array) -> dict[str, float]:
        """Times (P,) [s] by pump, where there are any."""
        named = zip(self.pumps, times.tolist(), strict=True)
        return {pump: time for pump, time in named if np.isfinite(time)}

    def left(self, scenario: int, when: float) -> float:
        """Fuel on board at a time [m3]."""
        at = int(np.searchsorted(self.time[:, scenario], when))
        at = min(at, len(self.time) - 1)
        return float(self.volume[at, scenario].sum())

    def at_end(self) -> Array:
        """Fuel on board in the end, shape (S,) [m3]."""
        total: Array = self.volume[-1].sum(axis=1)
        return total
