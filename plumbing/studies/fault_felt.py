"""What is felt of a fault in a flight: how bad it is, and in words."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from plumbing import units
from plumbing.findings import Severity
from plumbing.frozen import frozen
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.profile import Profile

_MUCH = 3e3  # change of suction that is worth a word [Pa]; common practice


@frozen
class Felt:
    """What is felt of a fault.

    Attributes
    ----------
    profile : Profile
        The flight.
    engines, air, folds : mapping of str to float
        When engines stop, when air reaches pumps, when tanks fold [s].
    suction : float
        Highest suction at a pump [Pa].
    change : float
        By how much suction changes, 0 where an engine stops [Pa].
    short, kept : float
        Fuel less at the end than without the fault, and fuel on board then that no pickup
        reaches because of it [m3]; 0 where that is little.
    cut : bool
        Whether it ends with less than the reserve because of the fault.
    """

    profile: Profile
    engines: Mapping[str, float]
    air: Mapping[str, float]
    folds: Mapping[str, float]
    suction: float
    change: float
    short: float
    kept: float
    cut: bool

    @property
    def severity(self) -> Severity | None:
        """How bad it is; None where nothing is felt."""
        if self.folds or any(self._aloft(when) for when in self.engines.values()):
            return Severity.UNSAFE
        if self.engines or self.air or self.cut or self.suction >= SUCTION_LIMIT:
            return Severity.FAULT
        return Severity.ADVICE if self.change > _MUCH or self.short + self.kept > 0.0 else None

    @property
    def phase(self) -> str:
        """Phase in which the first thing happens; empty where nothing does."""
        times = [*self.engines.values(), *self.air.values(), *self.folds.values()]
        return self._phase(min(times)) if times else ""

    @property
    def words(self) -> str:
        """The outcome in words, in the order in which things happen."""
        events = [(when, f"{name} folds") for name, when in self.folds.items()]
        events += [(when, f"{name} stops") for name, when in self.engines.items()]
        first = min(self.air.items(), key=lambda pair: pair[1], default=None)
        if first is not None and not any(when <= first[1] for when, _ in events):
            events.append((first[1], f"air reaches {first[0]}"))
        parts = [f"{what} {self._when(when)}" for when, what in sorted(events)]
        if self.short > 0.0:
            parts.append(f"lands with {units.show(self.short, 'volume')} less")
        if self.kept > 0.0:
            parts.append(f"lands with {units.show(self.kept, 'volume')} out of reach")
        if not parts and self.change > _MUCH:
            parts.append(f"suction changes by {units.show(self.change, 'pressure')}")
        return "; ".join(parts) or "nothing that is felt in this flight"

    def _when(self, when: float) -> str:
        """Time and phase in words."""
        said = units.clock(when) if when >= 60.0 else units.show(round(when), "time")
        after = f"after {said}" if when >= 1.0 else "at once"
        return f"{after}, in {self._phase(when)}"

    def _phase(self, when: float) -> str:
        return self.profile.phase[self._place(when)]

    def _aloft(self, when: float) -> bool:
        return bool(self.profile.airborne[self._place(when)])

    def _place(self, when: float) -> int:
        """Stretch of the flight at a time."""
        ends = np.cumsum(self.profile.duration)
        return min(int(np.searchsorted(ends, when, side="right")), len(ends) - 1)
