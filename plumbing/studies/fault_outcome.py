"""From the marched batch to what each fault does."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from plumbing.findings import Severity
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.physics.constants import ATMOSPHERE, GRAVITY
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.endurance import reserve_of
from plumbing.simulation.engines import STOPS_AFTER
from plumbing.simulation.profile import Profile
from plumbing.studies.fault_batch import Batch
from plumbing.studies.fault_course import Course
from plumbing.studies.fault_felt import Felt
from plumbing.studies.fault_list import Effect
from plumbing.studies.fault_result import Outcome

_OTHERWISE = {"engine out": "the others run on; its own fuel stays on board"}
_SHORT = 0.02  # share of the fuel on board by which a flight must end short to count


def outcomes(
    layout: Layout, survey: Survey, made: Batch, profile: Profile, course: Course
) -> tuple[Outcome, ...]:
    """Outcome of every fault of a batch."""
    judged = _Judge(layout, survey, made, profile, course)
    return tuple(judged.outcome(number, one) for number, one in enumerate(made.effects, 1))


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
        self.suction, self.gas = self._pressures()
        self.beyond = made.beyond.more(course.volume[-1])

    def _pressures(self) -> tuple[Array, Array]:
        """Suction at the pumps (S, P) and in the tanks (S, T) in the worst usual stretch."""
        made, course = self.made, self.course
        count = len(made.start)
        stretches = np.unique(course.stretch[:, 0])
        first = np.array([np.argmax(course.stretch[:, 0] >= one) for one in stretches])
        rows = np.zeros(len(stretches), dtype=np.intp)
        usual = made.solution(rows, stretches, course.volume[first, 0])
        pumps = made.feeding.plumbed.demand_node
        worst = int(stretches[(-usual.pressure[:, pumps]).max(axis=1).argmax()])
        every = np.arange(count)
        at = np.where(
            (course.stretch >= worst).any(axis=0), (course.stretch >= worst).argmax(axis=0), -1
        )
        held = course.volume[at, every]
        found = made.solution(every, np.full(count, worst, dtype=np.intp), held)
        nodes = made.feeding.plumbed.tank_node
        gas = np.where(nodes >= 0, -found.pressure[:, nodes], 0.0)
        return -found.pressure[:, pumps], gas

    def outcome(self, number: int, effect: Effect) -> Outcome:
        """What one fault does."""
        suction, gas = self.suction[number].copy(), self.gas[number].copy()
        usual = self.suction[0]
        stops = self._new(self.course.stops(number), self.usual_stops)
        air = self._new(self.course.air(number), self.usual_air)
        folds: dict[str, float] = {}
        if effect.slug:
            more = self._slug(effect)
            suction, gas = suction + more, gas + more
        if effect.fault.kind == "vent blocked" and stops:
            stops, folds = self._stretched(stops)
            air, suction, gas = {}, usual, self.gas[0]
        if effect.closed and min(stops.values(), default=np.inf) <= STOPS_AFTER:
            air = {}  # the way is closed: no fuel comes, and no air either
        if effect.fault.kind == "engine out":
            stops, air, suction, gas = {}, {}, usual, self.gas[0]
        engines = self._engines(stops)
        last = max(engines.values(), default=np.inf)
        folds = {n: t for n, t in (folds or self._folded(gas)).items() if t <= last}
        change = float(np.abs(suction - usual).max(initial=0.0)) if not stops else 0.0
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

    def _slug(self, effect: Effect) -> float:
        """Suction it takes to draw air past fuel in a vent, at the load of the flight [Pa]."""
        density = float(self.made.feeding.fluids.liquid_density[0])
        load = max(self.layout.aircraft.load_factors.positive, 1.0)
        return density * load * GRAVITY * max(effect.slug.values())

    def _stretched(self, stops: dict[str, float]) -> tuple[dict[str, float], dict[str, float]]:
        """With no air coming in the air on board stretches: when pumps stop and walls fold [s]."""
        behind = self._behind(stops)
        air = float((self.made.tanks.capacity[behind] - self.made.start[0, behind]).sum())
        pumps = [number for number, name in enumerate(self.course.pumps) if name in stops]
        drawn = self.course.burnt[:, 0, pumps].sum(axis=1)

        def when(suction: float) -> float | None:
            needed = air * suction / (ATMOSPHERE - suction)
            return (
                float(np.interp(needed, drawn, self.course.time[:, 0]))
                if (drawn[-1] > needed)
                else None
            )

        names = list(self.layout.tanks)
        folds = {}
        for number in sorted(behind):
            wall = self.layout.tanks[names[number]].wall
            strength = wall.collapse_suction if wall else None
            if strength is not None and strength < ATMOSPHERE:
                folds[names[number]] = when(strength)
        stopped = when(SUCTION_LIMIT)
        return (
            {} if stopped is None else dict.fromkeys(stops, stopped),
            {name: time for name, time in folds.items() if time is not None},
        )

    def _behind(self, stops: dict[str, float]) -> list[int]:
        """Tanks that feed those pumps."""
        names = list(self.layout.tanks)
        engines = [
            engine
            for engine, feed in self.survey.feeds.items()
            if {*feed.pumps, engine} & stops.keys()
        ]
        feeding = {tank for engine in engines for tank in self.survey.tanks_feeding(engine)}
        return [names.index(name) for name in feeding]

    def _folded(self, gas: Array) -> dict[str, float]:
        """Tanks whose walls fold under the suction of the worst stretch, and when that is [s]."""
        found = {}
        for number, tank in enumerate(self.layout.tanks.values()):
            strength = tank.wall.collapse_suction if tank.wall else None
            if strength is not None and gas[number] > strength >= self.gas[0, number]:
                found[tank.name] = float(self.profile.duration[0])
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
