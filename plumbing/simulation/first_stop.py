"""Which engine stops first in each scenario of a march, when, and where the fuel was then."""

from __future__ import annotations

import numpy as np

from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.endurance import STOPS_AFTER
from plumbing.simulation.moment import Moment


class FirstStop:
    """Shown every moment of a march of S scenarios with P demands.

    Parameters
    ----------
    serves : Flags
        Which demands serve each engine, shape (E, P).
    """

    def __init__(self, serves: Flags) -> None:
        self._serves = serves[serves.any(axis=1)]
        self._last: Moment | None = None

    def __call__(self, moment: Moment) -> None:
        """See a moment."""
        if self._last is None:
            shape = moment.dry.shape
            self._dry_at: Array = np.full(shape, np.inf)
            self._burnt: Array = np.zeros(shape)
            self._lost: Array = np.zeros(shape)
            self._held: Array = np.zeros((*shape, moment.volume.shape[1]))
        else:
            self._note(self._last, moment)
        self._last = moment

    def _note(self, before: Moment, now: Moment) -> None:
        """Keep where the fuel was when it began to fail a demand that has not stopped."""
        begins = np.isinf(self._dry_at) & (now.dry > 0.0) & (before.dry == 0.0)
        rows, at = np.nonzero(begins)
        if rows.size:
            length = np.maximum(now.time - before.time, 1e-12)[rows]
            part = np.clip(1.0 - now.dry[rows, at] / length, 0.0, 1.0)

            def between(name: str) -> Array:
                one, other = (np.asarray(getattr(m, name))[rows] for m in (before, now))
                weight = part if one.ndim == 1 else part[:, None]
                return np.asarray(one + weight * (other - one))

            self._burnt[rows, at] = between("burnt").sum(axis=1)
            self._lost[rows, at] = between("spilt").sum(axis=1)
            self._held[rows, at] = between("volume")
        stops = np.isinf(self._dry_at) & (now.dry >= STOPS_AFTER)
        self._dry_at[stops] = (now.time[:, None] - now.dry)[stops]

    @property
    def stop(self) -> Array:
        """When the first engine stopped, shape (S,) [s]; infinite if none did."""
        each = np.where(self._serves, self._dry_at[:, None, :], -np.inf).max(axis=2)
        return np.asarray(each.min(axis=1, initial=np.inf) + STOPS_AFTER)

    @property
    def burnt(self) -> Array:
        """Fuel burnt until it failed that engine, or to the end, shape (S,) [m3]."""
        return self._then(self._burnt, self._ended.burnt.sum(axis=1))

    @property
    def lost(self) -> Array:
        """Fuel lost overboard until then, shape (S,) [m3]."""
        return self._then(self._lost, self._ended.spilt.sum(axis=1))

    @property
    def held(self) -> Array:
        """Fuel in each tank then, shape (S, T) [m3]."""
        return np.maximum(self._then(self._held, self._ended.volume), 0.0)

    @property
    def time(self) -> Array:
        """When that engine stopped, or the end, shape (S,) [s]."""
        return np.minimum(self.stop, self._ended.time)

    @property
    def _ended(self) -> Moment:
        assert self._last is not None, "nothing was marched"
        return self._last

    def _then(self, noted: Array, end: Array) -> Array:
        """Values as fuel failed the engine that stopped first, or at the end."""
        rows = np.arange(len(end))
        pump = self._pump()
        stopped = np.isfinite(self.stop)
        stopped = stopped if end.ndim == 1 else stopped[:, None]
        return np.asarray(np.where(stopped, noted[rows, pump], end))

    def _pump(self) -> Indices:
        """The last demand to fail the engine that stopped first, shape (S,)."""
        each = np.where(self._serves, self._dry_at[:, None, :], -np.inf)
        engine = each.max(axis=2).argmin(axis=1)
        return np.asarray(each[np.arange(len(each)), engine].argmax(axis=1), dtype=np.intp)
