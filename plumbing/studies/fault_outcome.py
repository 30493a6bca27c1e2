"""From the marched batch to what each fault does."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from plumbing.findings import Severity
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.constants import ATMOSPHERE
from plumbing.simulation.endurance import reserve_of
from plumbing.simulation.profile import Profile
from plumbing.studies.fault_batch import Batch
from plumbing.studies.fault_course import Course
from plumbing.studies.fault_felt import Felt
from plumbing.studies.fault_list import Effect
from plumbing.studies.fault_result import Outcome, Unknown

_OTHERWISE = {"engine out": "the others run on; its own fuel stays on board"}
_SHORT = 0.02  # share of the fuel on board by which a flight must end short to count


def outcomes(
    layout: Layout, survey: Survey, made: Batch, profile: Profile, course: Course
) -> Iterator[Outcome | Unknown]:
    """Outcome of every fault of a batch, or why it has none."""
    judged = _Judge(layout, survey, made, profile, course)
    for number, one in enumerate(made.effects, 1):
        if course.met[number]:
            yield judged.outcome(number, one)
        else:
            yield Unknown.of(one.fault, course.breaks_off(number, profile))


def ranked(found: Iterable[Outcome]) -> tuple[Outcome, ...]:
    """Worst first."""
    return tuple(sorted(found, key=_rank))


def _rank(one: Outcome) -> tuple[int, float, float, str]:
    worst = len(Severity) if one.severity is None else one.severity.rank
    times = [*one.stops.values(), *one.folds.values(), *one.first_air.values()]
    return worst, min(times, default=np.inf), -one.suction_change, one.fault.part


class _Judge:
    """Turns scenarios into outcomes."""

    def __init__(
        self, layout: Layout, survey: Survey, made: Batch, profile: Profile, course: Course
    ) -> None:
        self.layout, self.survey, self.made = layout, survey, made
        self.profile, self.course = profile, course
        self.usual_stops = course.stops(0)
        self.usual_air = course.air(0)
        self.usual_folds = self._folded(0)
        self.suction, self.gas = course.highest_suction()
        self.beyond = made.beyond.more(course.volume[-1])

    def outcome(self, number: int, effect: Effect) -> Outcome:
        """What one fault does."""
        suction, gas = self.suction[number], self.gas[number]
        stops = self._new(self.course.stops(number), self.usual_stops)
        air = self._new(self.course.air(number), self.usual_air)
        engines = self._engines(stops)
        last = max(engines.values(), default=np.inf)
        folds = self._new(self._folded(number), self.usual_folds)
        folds = {name: when for name, when in folds.items() if when <= last}
        runs = [effect.flow.get(pump, 1.0) > 0.0 for pump in range(len(suction))]
        apart = np.abs(suction - self.suction[0])[runs]
        change = float(apart.max(initial=0.0)) if not stops else 0.0
        short, kept = self._lost(number) if not engines else (0.0, 0.0)
        felt = Felt(
            profile=self.profile,
            engines=engines,
            air=air,
            folds=folds,
            suction=float(suction.max(initial=0.0)),
            change=change,
            short=short,
            kept=kept,
            cut=short + kept > 0.0 and self._cuts_reserve(number),
        )
        return Outcome(
            fault=effect.fault,
            severity=felt.severity,
            stops=engines,
            phase=felt.phase,
            first_air=air,
            folds=folds,
            suction=dict(zip(self.course.pumps, suction.tolist(), strict=True)),
            suction_change=change,
            tank_suction=dict(zip(self.layout.tanks, gas.tolist(), strict=True)),
            stranded=self.course.left(number, min(engines.values())) if engines else 0.0,
            short=short + kept,
            does=_OTHERWISE.get(effect.fault.kind) or felt.words,
        )

    def _new(self, found: dict[str, float], usual: dict[str, float]) -> dict[str, float]:
        """What comes, or comes clearly earlier, because of the fault."""
        return {
            name: when
            for name, when in found.items()
            if name not in usual or when < usual[name] - 1.0
        }

    def _folded(self, number: int) -> dict[str, float]:
        """Tanks whose walls fold, and when the suction in them passes their strength [s]."""
        found = {}
        for tank, one in enumerate(self.layout.tanks.values()):
            folding = one.name in self.survey.bags
            strength = one.wall.collapse_suction if one.wall and not folding else None
            if strength is not None and strength < ATMOSPHERE:
                when = self.course.passes(number, tank, strength)
                if when is not None:
                    found[one.name] = when
        return found

    def _engines(self, stops: dict[str, float]) -> dict[str, float]:
        """Engines of the pumps that stop; an engine with several stops with the last."""
        found = {}
        for engine, feed in self.survey.feeds.items():
            served = [name for name in self.course.pumps if name in (*feed.pumps, engine)]
            times = [stops[name] for name in served if name in stops]
            if served and len(times) == len(served):
                found[engine] = max(times)
        return found

    def _lost(self, number: int) -> tuple[float, float]:
        """Fuel less at the end than without the fault, and out of reach because of it [m3]."""
        ends = self.course.at_end()
        little = _SHORT * float(self.made.start[0].sum())
        less, kept = float(ends[0] - ends[number]), float(self.beyond[number])
        return less if less > little else 0.0, kept if kept > little else 0.0

    def _cuts_reserve(self, number: int) -> bool:
        """Whether the flight ends with less than the reserve because of the fault."""
        ends = self.course.at_end()
        reserve = reserve_of(self.layout, float(self.made.start[0].sum()))
        return bool(ends[number] - self.beyond[number] < reserve <= ends[0])
