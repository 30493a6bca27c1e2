"""What there is to know of all scenarios at one moment of a run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from plumbing.physics.arrays import Array, Flags, Indices


@dataclass(frozen=True, slots=True, eq=False)
class FlameOut:
    """What stops an engine: more gas than it burns on, for too long.

    Attributes
    ----------
    liquid : Array
        Liquid share below which each demand is without fuel, shape (S or 1, P) [-].
    patience : float
        Time without fuel that stops the engine [s].
    serves : Flags
        Which demands serve each of E engines, shape (E, P).
    """

    liquid: Array
    patience: float
    serves: Flags

    def least(self, rows: Indices) -> Array:
        """Liquid share that some scenarios need, shape (R or 1, P) [-]."""
        return self.liquid[rows] if len(self.liquid) > 1 else self.liquid

    def running(self, dry: Array) -> Flags:
        """Demands that still draw, shape (S, P), having been without fuel for `dry` (S, P) [s].

        A pump stops with the last of the engines it serves (common practice: the engine's own
        electronics cut its pump off); an engine stops with the last of its pumps.
        """
        gone = (dry >= self.patience)[:, None, :]
        turns = self.serves & (~gone & self.serves).any(axis=2, keepdims=True)
        return np.asarray(turns.any(axis=1) | ~self.serves.any(axis=0))


NO_ENGINES = FlameOut(np.zeros((1, 1)), np.inf, np.zeros((0, 1), dtype=bool))


@dataclass(frozen=True, slots=True, eq=False)
class Balance:
    """What the network does at one moment, for S scenarios.

    Attributes
    ----------
    volume : Array
        Fuel as it lies that it is worked out for, shape (S, C) [m3].
    held : Array
        Gas in each tank then, as volume at ambient pressure, shape (S, T) [m3].
    rate : Array
        Liquid gained by each pocket, shape (S, C) [m3/s].
    gas : Array
        Gas gained by each tank that is shut in, as volume at ambient pressure, (S, T) [m3/s].
    drawn : Array
        What each demand draws, liquid and gas, shape (S, P) [m3/s].
    burnt : Array
        Liquid taken by each demand, shape (S, P) [m3/s].
    share : Array
        Liquid each demand receives, as share of the flow it wants, shape (S, P) [-].
    spilt : Array
        Liquid leaving through each outlet, less liquid entering there, shape (S, O) [m3/s].
    pressure : Array
        Gauge pressure at every node, shape (S, N) [Pa]; 0 where not solved for.
    solved : Flags
        Whether pressures were solved for, or continuity alone gave the flows, shape (S,).
    met : Flags
        Whether a state was found that meets all laws, shape (S,).
    """

    volume: Array
    held: Array
    rate: Array
    gas: Array
    drawn: Array
    burnt: Array
    share: Array
    spilt: Array
    pressure: Array
    solved: Flags
    met: Flags

    @property
    def mix(self) -> Array:
        """Liquid share of what each demand draws, shape (S, P) [-]; 1 where it draws nothing."""
        some = self.drawn != 0.0
        return np.asarray(np.where(some, self.burnt / np.where(some, self.drawn, 1.0), 1.0))

    def rows(self, which: Flags | Indices | list[int]) -> Balance:
        """The same for some scenarios."""
        return self._made({name: array[which] for name, array in self._arrays().items()})

    def put(self, which: Indices, other: Balance) -> Balance:
        """The same with some scenarios from another."""
        arrays = {name: array.copy() for name, array in self._arrays().items()}
        for name, given in other._arrays().items():
            arrays[name][which] = given
        return self._made(arrays)

    @staticmethod
    def joined(parts: Sequence[Balance]) -> Balance:
        """Scenarios of several, one after the other."""
        every = [one._arrays() for one in parts]
        return Balance._made(
            {name: np.concatenate([one[name] for one in every]) for name in every[0]}
        )

    def mean(self, other: Balance, part: Array) -> Balance:
        """Mean of this for a part of the time, shape (S,) [-], and another for the rest."""
        by, also = part[:, None], other._arrays()
        mean = {
            n: by * one + (1.0 - by) * also[n]
            for n, one in self._arrays().items()
            if n not in ("met", "solved")
        }
        both = {"met": self.met & other.met, "solved": self.solved & other.solved}
        return self._made(mean | both)

    def _arrays(self) -> dict[str, Any]:
        return {name: getattr(self, name) for name in self.__slots__}

    @staticmethod
    def _made(arrays: dict[str, Any]) -> Balance:
        return Balance(**arrays)


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """K stretches of constant demand and gravity, one after the other.

    Attributes
    ----------
    duration : Array
        Shape (K,) [s].
    index : Indices
        Direction of gravity of each, a row of the tankage, shape (K,); or (S, K) where each
        scenario has its own.
    """

    duration: Array
    index: Indices

    def direction(self, rows: Indices, stretch: Indices) -> Indices:
        """Direction of gravity of scenarios (R,) in their stretches (R,)."""
        return self.index[stretch] if self.index.ndim == 1 else self.index[rows, stretch]


@dataclass(frozen=True, slots=True, eq=False)
class Moment:
    """State of all scenarios at the end of a step.

    Attributes
    ----------
    time : Array
        Shape (S,) [s].
    stretch : Indices
        Stretch each is in, shape (S,).
    lying : Array
        Fuel as it lies, shape (S, C) [m3].
    volume : Array
        Fuel in each tank, shape (S, T) [m3].
    gas : Array
        Gas in each tank as the volume it has at ambient pressure, shape (S, T) [m3]; kept up only
        for tanks that are shut in.
    burnt : Array
        Liquid taken so far by each demand, shape (S, P) [m3].
    spilt : Array
        Liquid lost so far through each outlet, shape (S, O) [m3].
    dry : Array
        Time each demand has now been without fuel, shape (S, P) [s].
    began, ended : Balance
        What the network did at both ends of the last step.
    """

    time: Array
    stretch: Indices
    lying: Array
    volume: Array
    gas: Array
    burnt: Array
    spilt: Array
    dry: Array
    began: Balance
    ended: Balance

    @classmethod
    def first(cls, lying: Array, volume: Array, gas: Array, balance: Balance) -> Moment:
        """The start, with fuel as it lies (S, C), fuel and gas (S, T) [m3] in the tanks."""
        return cls(
            time=np.zeros(len(volume)),
            stretch=np.zeros(len(volume), dtype=np.intp),
            lying=np.array(lying, float),
            volume=np.array(volume, float),
            gas=gas,
            burnt=np.zeros_like(balance.burnt),
            spilt=np.zeros_like(balance.spilt),
            dry=np.zeros_like(balance.share),
            began=balance,
            ended=balance,
        )

    @property
    def share(self) -> Array:
        """Liquid share each demand now receives, shape (S, P) [-]."""
        return self.ended.share

    @property
    def met(self) -> Flags:
        """Whether a state was found at both ends of the last step, shape (S,)."""
        return self.began.met & self.ended.met


class Balancing(Protocol):
    """A network: from rows of scenarios, their stretch, fuel and gas to the balance there."""

    def __call__(
        self,
        rows: Indices,
        stretch: Indices,
        volume: Array,
        gas: Array,
        draws: Flags | None = None,
        /,
    ) -> Balance:
        """Balance of R scenarios, fuel and gas (R, T) [m3].

        Demands draw where `draws` says, shape (R, P) or (R, 1); all by default.
        """
