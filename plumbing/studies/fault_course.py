"""A batch of faults as it went: what happened in each scenario, and when."""

from __future__ import annotations

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.engines import STOPS_AFTER
from plumbing.simulation.moment import Balance, Moment
from plumbing.simulation.profile import Profile
from plumbing.simulation.sealed import stretched_to
from plumbing.simulation.slugs import Slugs
from plumbing.studies.fault_batch import Batch
from plumbing.units import clock

_AIR = 1.0 - 1e-6


@frozen(eq=False)
class Course:
    """A batch as it went: M moments, S scenarios, P pumps, T tanks.

    Attributes
    ----------
    pumps : tuple of str
        Names.
    time : Array
        Shape (M, S) [s].
    stretch : Indices
        Stretch each is in, shape (M, S).
    volume : Array
        Shape (M, S, T) [m3].
    mix, dry : Array
        Liquid share of what is drawn, time without fuel [s], shape (M, S, P).
    gassy : Flags
        Whether the gas in what is drawn stops an engine by itself, shape (M, S, P).
    slugs : Slugs
        The lines that air passes on its way to the engines.
    met : Flags
        Scenarios whose network found a state to the end, shape (S,).
    suction : Array
        At the pumps while they draw, at the start and the end of every step, 0 else,
        shape (2, M - 1, S, P) [Pa].
    gas : Array
        Gauge pressure in the tanks likewise, shape (2, M - 1, S, T) [Pa].
    """

    pumps: tuple[str, ...]
    time: Array
    stretch: Indices
    volume: Array
    mix: Array
    dry: Array
    gassy: Flags
    slugs: Slugs
    met: Flags
    suction: Array
    gas: Array

    @classmethod
    def of(cls, made: Batch, seen: list[Moment], liquid: Array, slugs: Slugs) -> Course:
        """What was seen of a batch whose engines need a share of liquid, (1, P) [-]."""
        plumbed = made.feeding.plumbed
        time = np.stack([one.time for one in seen])
        stretch = np.minimum(np.stack([one.stretch for one in seen]), len(made.index) - 1)
        went = np.diff(time, axis=0) > 0.0
        step, rows = np.nonzero(went)
        suction = np.zeros((2, *went.shape, len(plumbed.demands)))
        gas = np.zeros((2, *went.shape, len(plumbed.tanks)))
        for side, name in enumerate(("began", "ended") if went.any() else ()):
            found = Balance.joined(
                [getattr(one, name).rows(moved) for one, moved in zip(seen[1:], went, strict=True)]
            )
            pressure = made.pressures(found, rows, stretch[step, rows])
            pulls = found.drawn > 0.0
            suction[side, step, rows] = np.where(pulls, -pressure[:, plumbed.demand_node], 0.0)
            at = plumbed.tank_node
            gas[side, step, rows] = np.where(at >= 0, pressure[:, at], 0.0)
        mix = np.stack([one.ended.mix for one in seen])
        return cls(
            pumps=plumbed.demands,
            time=time,
            stretch=stretch,
            volume=np.stack([one.volume for one in seen]),
            mix=mix,
            dry=np.stack([one.dry for one in seen]),
            gassy=mix < liquid,
            slugs=slugs,
            met=seen[-1].met,
            suction=suction,
            gas=gas,
        )

    def stops(self, scenario: int) -> dict[str, float]:
        """Pumps that are without fuel for long enough to stop their engine, and when [s]."""
        dry, time = self.dry[:, scenario], self.time[:, scenario]
        failed, gas = np.full((1, len(self.pumps)), np.inf), self.gassy[-1:, scenario].copy()
        for number in range(len(self.pumps)):
            at = np.flatnonzero(dry[:, number] >= STOPS_AFTER)
            if at.size:
                failed[0, number] = time[at[0]] - dry[at[0], number]
                gas[0, number] = self.gassy[at[0], scenario, number]
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

    def passes(self, scenario: int, tank: int, suction: float) -> float | None:
        """When the suction in a tank first passes a value [s]; None where it never does."""
        began, ended = self.gas[:, :, scenario, tank]
        at = np.flatnonzero(np.minimum(began, ended) < -suction)
        if not at.size:
            return None
        part = stretched_to(began[at[0]], ended[at[0]], suction)
        start, end = self.time[at[0], scenario], self.time[at[0] + 1, scenario]
        return float(start + part * (end - start))

    def highest_suction(self) -> tuple[Array, Array]:
        """Highest suction at the pumps (S, P) and in the tanks (S, T) at any moment [Pa]."""
        return self.suction.max(axis=(0, 1), initial=0.0), -self.gas.min(axis=(0, 1), initial=0.0)

    def breaks_off(self, scenario: int, profile: Profile) -> str:
        """When and where a scenario found no state of its network, in words."""
        phase = profile.phase[int(self.stretch[-1, scenario])]
        when = clock(float(self.time[-1, scenario]))
        return f"no steady state of the network was found after {when}, in {phase}"

    def left(self, scenario: int, when: float) -> float:
        """Fuel on board at a time [m3]."""
        at = int(np.searchsorted(self.time[:, scenario], when))
        at = min(at, len(self.time) - 1)
        return float(self.volume[at, scenario].sum())

    def at_end(self) -> Array:
        """Fuel on board in the end, shape (S,) [m3]."""
        total: Array = self.volume[-1].sum(axis=1)
        return total
