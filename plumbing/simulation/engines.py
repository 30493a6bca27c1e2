"""The engines as a march must know them: which pumps serve each, and what stops it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from plumbing.frozen import frozen
from plumbing.model.engine import Engine
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.demand import FLAME_OUT_GAS
from plumbing.simulation.moment import FlameOut, Moment
from plumbing.simulation.slugs import Slugs

STOPS_AFTER = 0.5  # time without fuel that stops an engine [s]; common practice
_LEAST = 1e-3  # liquid share that every engine needs


def gas_share_of(engine: Engine) -> tuple[float, float, float]:
    """Gas share of its feed at which an engine goes out: likely, low and high [-]."""
    if engine.flame_out_gas_share is not None:
        return (engine.flame_out_gas_share,) * 3
    return FLAME_OUT_GAS


@frozen(eq=False)
class Engines:
    """Engines of a circuit with P demands.

    Attributes
    ----------
    names : tuple of str
        Those that a demand serves, E of them.
    serves : Flags
        Which demands serve each, shape (E, P).
    flame_out : FlameOut
        What stops them.
    """

    names: tuple[str, ...]
    serves: Flags
    flame_out: FlameOut


def engines_for(
    layout: Layout, survey: Survey, demands: Sequence[str], gas: Array | None = None
) -> Engines:
    """Engines that demands serve.

    Parameters
    ----------
    layout, survey
        The layout, with E engines, and its survey.
    demands : sequence of str
        Pumps, or engines that draw by themselves.
    gas : Array, optional
        Gas share at which each engine goes out, shape (S, E) [-]; the likely one by default.
    """
    if gas is None:
        gas = np.array([[gas_share_of(one)[0] for one in layout.engines.values()]])
    names = list(layout.engines)
    serves = np.array(
        [[one in (*survey.feeds[name].pumps, name) for one in demands] for name in names], bool
    ).reshape(len(names), len(demands))
    burns = np.where(serves, 1.0 - gas[:, :, None], 0.0).max(axis=1, initial=0.0)
    served: Flags = np.asarray(serves.any(axis=1))
    return Engines(
        names=tuple(names[number] for number in np.flatnonzero(served)),
        serves=serves[served],
        flame_out=FlameOut(np.maximum(burns, _LEAST), STOPS_AFTER, serves[served]),
    )


class Stops:
    """Watches a march of S scenarios for the engines that stop.

    Of every demand it keeps where the fuel was when it began to fail it for good. The engine stops
    when it feels that.
    """

    def __init__(self, engines: Engines, slugs: Slugs) -> None:
        self._engines = engines
        self._slugs = slugs
        self._last: Moment | None = None

    def __call__(self, moment: Moment) -> None:
        """See a moment."""
        if self._last is None:
            shape = moment.dry.shape
            self._failed: Array = np.full(shape, np.inf)
            self._gas: Flags = np.ones(shape, dtype=bool)
            self._burnt: Array = np.zeros(shape)
            self._lost: Array = np.zeros(shape)
            self._held: Array = np.zeros((*shape, moment.volume.shape[1]))
        else:
            self._note(self._last, moment)
        self._last = moment

    def over(self, moment: Moment) -> Flags:
        """Scenarios in which every engine has been without fuel for too long, shape (S,)."""
        counts = self._engines.serves.any(axis=0)
        return np.asarray((moment.dry[:, counts] >= self._engines.flame_out.patience).all(axis=1))

    def _note(self, before: Moment, now: Moment) -> None:
        running = np.isinf(self._failed)
        rows, at = np.nonzero(running & (now.dry > 0.0) & (before.dry == 0.0))
        if rows.size:
            length = np.maximum(now.time - before.time, 1e-12)[rows]
            part = np.clip(1.0 - now.dry[rows, at] / length, 0.0, 1.0)[:, None]

            def between(one: Array, other: Array) -> Array:
                return np.asarray(one[rows] + part * (other[rows] - one[rows]))

            liquid = np.broadcast_to(self._engines.flame_out.liquid, running.shape)
            self._gas[rows, at] = (now.ended.mix < liquid)[rows, at]
            self._burnt[rows, at] = between(before.burnt, now.burnt).sum(axis=1)
            self._lost[rows, at] = between(before.spilt, now.spilt).sum(axis=1)
            self._held[rows, at] = between(before.volume, now.volume)
        stops = running & (now.dry >= self._engines.flame_out.patience)
        self._failed[stops] = (now.time[:, None] - now.dry)[stops]

    @property
    def failed(self) -> Array:
        """When fuel failed each demand for good, shape (S, P) [s]; infinite if it did not."""
        return self._failed

    @property
    def running(self) -> Flags:
        """Whether fuel has failed no engine yet, shape (S,)."""
        return np.asarray(np.isinf(self._last_of_each(self._failed)).all(axis=1))

    @property
    def stop(self) -> Array:
        """When the first engine stopped, shape (S,) [s]; infinite if none did."""
        first = self._last_of_each(self._felt).min(axis=1, initial=np.inf)
        return np.asarray(first + self._engines.flame_out.patience)

    @property
    def time(self) -> Array:
        """When that engine stopped, or the end, shape (S,) [s]."""
        return np.asarray(np.where(np.isfinite(self.stop), self.stop, self.end.time))

    @property
    def burnt(self) -> Array:
        """Fuel burnt until it failed that engine, or to the end, shape (S,) [m3]."""
        return self._then(self._burnt, self.end.burnt.sum(axis=1))

    @property
    def lost(self) -> Array:
        """Fuel lost overboard until then, shape (S,) [m3]."""
        return self._then(self._lost, self.end.spilt.sum(axis=1))

    @property
    def held(self) -> Array:
        """Fuel in each tank then, shape (S, T) [m3]."""
        return np.maximum(self._then(self._held, self.end.volume), 0.0)

    @property
    def end(self) -> Moment:
        """The last moment seen."""
        assert self._last is not None, "nothing was marched"
        return self._last

    @property
    def _felt(self) -> Array:
        """When their engines felt it, shape (S, P) [s]."""
        return self._slugs.felt(self._failed, self._gas)

    def _last_of_each(self, times: Array) -> Array:
        """Times (S, P) of the last demand of each engine, shape (S, E) [s]."""
        serves = self._engines.serves
        return np.asarray(np.where(serves, times[:, None, :], -np.inf).max(axis=2))

    def _then(self, noted: Array, end: Array) -> Array:
        """Values as fuel failed the engine that stopped first, or at the end."""
        stopped = np.isfinite(self.stop)
        if not stopped.any():
            return end
        rows = np.arange(len(end))
        first = self._engines.serves[self._last_of_each(self._felt).argmin(axis=1)]
        pump: Indices = np.where(first, self._felt, -np.inf).argmax(axis=1)
        stopped = stopped if end.ndim == 1 else stopped[:, None]
        return np.asarray(np.where(stopped, noted[rows, pump], end))
