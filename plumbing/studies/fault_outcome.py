"""From the marched batch to what each fault does."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plumbing import units
from plumbing.findings import Severity
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.constants import ATMOSPHERE, GRAVITY
from plumbing.simulation.endurance import STOPS_AFTER, reserve_of
from plumbing.simulation.profile import Profile
from plumbing.studies.fault_batch import Batch
from plumbing.studies.fault_list import Effect
from plumbing.studies.fault_result import Outcome

PULLS = (
    40e3  # suction at which a gear pump has lost its flow to vapour and air [Pa]; common practice
)
_OTHERWISE = {"engine out": "the others run on; its own fuel stays on board"}
_AIR = 1.0 - 1e-6
_MUCH = 3e3  # rise of suction that is worth a word [Pa]; common practice
_SHORT = 0.02  # share of the fuel on board by which a flight must end short to count


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
    burnt, share, dry : Array
        Fuel taken [m3], liquid share received, time without fuel [s], shape (M, S, P).
    """

    pumps: tuple[str, ...]
    time: Array
    stretch: Indices
    volume: Array
    burnt: Array
    share: Array
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
        share, time = self.share[:, scenario], self.time[:, scenario]
        found = {}
        for number, name in enumerate(self.pumps):
            at = np.flatnonzero(share[:, number] < _AIR)
            if at.size:
                found[name] = float(time[max(at[0] - 1, 0)])
        return found


def outcomes(
    layout: Layout, survey: Survey, made: Batch, profile: Profile, course: Course
) -> tuple[Outcome, ...]:
    """Outcome of every fault, worst first."""
    judged = _Judge(layout, survey, made, profile, course)
    found = [judged.outcome(number, one) for number, one in enumerate(made.effects, 1)]
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

    def _pressures(self) -> tuple[Array, Array]:
        """Suction at the pumps (S, P) and in the tanks (S, T) in the worst usual stretch."""
        made, course = self.made, self.course
        count = len(made.start)
        stretches = np.unique(course.stretch[:, 0])
        first = np.array([np.argmax(course.stretch[:, 0] >= one) for one in stretches])
        rows = np.zeros(len(stretches), dtype=np.intp)
        usual = made.solution(rows, stretches, course.volume[first, 0])
        pumps = made.feeding.plumbed.demand_node[: made.pumps]
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
        short = self._short(number) if not engines else 0.0
        cut = short > 0.0 and self._cuts_reserve(number)
        worth = change > _MUCH or short > 0.0
        severity = self._severity(engines, air, folds, worth, cut, suction)
        first = min([*engines.values(), *air.values(), *folds.values()], default=None)
        return Outcome(
            fault=effect.fault,
            severity=severity,
            stops=engines,
            phase=self._phase(first),
            first_air=air,
            folds=folds,
            suction=dict(zip(self.course.pumps, suction.tolist(), strict=True)),
            suction_change=change,
            tank_suction=dict(zip(self.layout.tanks, gas.tolist(), strict=True)),
            stranded=self._left(number, min(engines.values())) if engines else 0.0,
            short=short,
            does=_OTHERWISE.get(effect.fault.kind)
            or self._does(engines, air, folds, change, short),
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
        for number in behind:
            wall = self.layout.tanks[names[number]].wall
            strength = wall.collapse_suction if wall else None
            if strength is not None and strength < ATMOSPHERE:
                folds[names[number]] = when(strength)
        stopped = when(PULLS)
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

    def _left(self, number: int, when: float) -> float:
        at = int(np.searchsorted(self.course.time[:, number], when))
        at = min(at, len(self.course.time) - 1)
        return float(self.course.volume[at, number].sum())

    def _short(self, number: int) -> float:
        """Fuel less at the end than without the fault [m3]."""
        ends = self.course.volume[-1].sum(axis=1)
        less = float(ends[0] - ends[number])
        return less if less > _SHORT * float(self.made.start[0].sum()) else 0.0

    def _place(self, when: float) -> int:
        ends = np.cumsum(self.profile.duration)
        return min(int(np.searchsorted(ends, when, side="right")), len(ends) - 1)

    def _phase(self, when: float | None) -> str:
        return "" if when is None else self.profile.phase[self._place(when)]

    def _when(self, when: float) -> str:
        """Time and phase in words."""
        after = f"after {units.show(round(when), 'time')}" if when >= 1.0 else "at once"
        return f"{after}, in {self._phase(when)}"

    def _aloft(self, when: float) -> bool:
        return bool(self.profile.airborne[self._place(when)])

    def _cuts_reserve(self, number: int) -> bool:
        """Whether the flight ends with less than the reserve because of the fault."""
        ends = self.course.volume[-1].sum(axis=1)
        reserve = reserve_of(self.layout, float(self.made.start[0].sum()))
        return bool(ends[number] < reserve <= ends[0])

    def _severity(
        self,
        engines: dict[str, float],
        air: dict[str, float],
        folds: dict[str, float],
        worth: bool,
        cut: bool,
        suction: Array,
    ) -> Severity | None:
        if folds or any(self._aloft(when) for when in engines.values()):
            return Severity.UNSAFE
        if engines or air or cut or suction.max(initial=0.0) > PULLS:
            return Severity.FAULT
        return Severity.ADVICE if worth else None

    def _does(
        self,
        engines: dict[str, float],
        air: dict[str, float],
        folds: dict[str, float],
        change: float,
        short: float,
    ) -> str:
        """The outcome in words, in the order in which things happen."""
        events = [(when, f"{name} folds") for name, when in folds.items()]
        events += [(when, f"{name} stops") for name, when in engines.items()]
        first = min(air.items(), key=lambda pair: pair[1], default=None)
        if first is not None and not any(when <= first[1] for when, _ in events):
            events.append((first[1], f"air reaches {first[0]}"))
        parts = [f"{what} {self._when(when)}" for when, what in sorted(events)]
        if short > 0.0:
            parts.append(f"lands with {units.show(short, 'volume')} less")
        if not parts and change > _MUCH:
            parts.append(f"suction changes by {units.show(change, 'pressure')}")
        return "; ".join(parts) or "nothing that is felt in this flight"
