"""A batch of faults as it went: histories, one scenario each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.engines import STOPS_AFTER

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
    """

    pumps: tuple[str, ...]
    time: Array
    stretch: Indices
    volume: Array
    burnt: Array
    mix: Array
    dry: Array

    def stops(self, scenario: int) -> dict[str, float]:
        """Pumps that are without fuel for long enough to stop their engine, and when [s]."""
        dry, time = self.dry[:, scenario], self.time[:, scenario]
        found = {}
        for number, name in enumerate(self.pumps):
            at = np.flatnonzero(dry[:, number] >= STOPS_AFTER)
            if at.size:
                found[name] = float(time[at[0]] - dry[at[0], number] + STOPS_AFTER)
        return found

    def air(self, scenario: int) -> dict[str, float]:
        """Pumps that air reaches, and when [s]: at the beginning of the step that brings it."""
        mix, time = self.mix[:, scenario], self.time[:, scenario]
        found = {}
        for number, name in enumerate(self.pumps):
            at = np.flatnonzero(mix[:, number] < _AIR)
            if at.size:
                found[name] = float(time[max(at[0] - 1, 0)])
        return found

    def left(self, scenario: int, when: float) -> float:
        """Fuel on board at a time [m3]."""
        at = int(np.searchsorted(self.time[:, scenario], when))
        at = min(at, len(self.time) - 1)
        return float(self.volume[at, scenario].sum())

    def at_end(self) -> Array:
        """Fuel on board in the end, shape (S,) [m3]."""
        total: Array = self.volume[-1].sum(axis=1)
        return total
