"""Results a study can list, by name; each is computed only where it is wanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from types import MappingProxyType

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.results import got
from plumbing.simulation.computed import Computed
from plumbing.simulation.flight_result import Flown
from plumbing.simulation.peak_result import EnginePeak

Value = float | int | None
Counts = Mapping[str, int]
"""Findings by severity, and `unchecked`."""

Counting = Callable[[Layout], Counts]
"""Runs the checks; given from above, because the checks stand on the studies."""


class Outcome(Computed):
    """One variant, computed as far as it is asked."""

    def __init__(self, layout: Layout, counting: Counting) -> None:
        super().__init__(layout)
        self.counting = counting

    @cached_property
    def counts(self) -> Counts:
        """Findings by severity."""
        return self.counting(self.layout)


@frozen
class Result:
    """A result by name.

    Attributes
    ----------
    unit : str
        SI unit in the head of its column; empty for a count.
    what : str
        What it is.
    of : callable
        From an outcome to its value; None where there is none, such as the time of an event that
        does not come.
    """

    unit: str
    what: str
    of: Callable[[Outcome], Value]


def _engines(pick: Callable[[EnginePeak], float]) -> Callable[[Outcome], Value]:
    def worst(outcome: Outcome) -> Value:
        found = [pick(one) for one in outcome.peak.engines.values()]
        return max(found, default=None)

    return worst


def _flown(pick: Callable[[Flown], Value]) -> Callable[[Outcome], Value]:
    def picked(outcome: Outcome) -> Value:
        return pick(got(outcome.flight))

    return picked


def _counted(*words: str) -> Callable[[Outcome], Value]:
    return lambda outcome: sum(outcome.counts[word] for word in words)


def _first(times: Mapping[str, float | None]) -> Value:
    return min((time for time in times.values() if time is not None), default=None)


def _cg(pick: Callable[[float, float], float]) -> Callable[[Flown], Value]:
    def picked(flown: Flown) -> Value:
        cg = flown.history.cg
        return None if cg is None else pick(float(cg[:, 0].min()), float(cg[:, 0].max()))

    return picked


RESULTS: Mapping[str, Result] = MappingProxyType(
    {
        "suction": Result(
            "Pa",
            "greatest suction at a pump inlet at full flow",
            _engines(lambda e: e.suction.value),
        ),
        "cold-suction": Result(
            "Pa", "the same at the worst temperature", _engines(lambda e: e.coldest.suction.value)
        ),
        "loaded-suction": Result(
            "Pa", "the same under the worst load", _engines(lambda e: e.loaded.suction.value)
        ),
        "dirty-suction": Result(
            "Pa", "the same with dirty filters", _engines(lambda e: e.dirty.suction.value)
        ),
        "endurance": Result(
            "s", "time in the air until the first engine stops", _flown(lambda f: f.endurance)
        ),
        "timer": Result("s", "timer to set from take-off", _flown(lambda f: f.timer)),
        "on-board": Result("m3", "fuel at start-up", _flown(lambda f: f.on_board)),
        "usable": Result("m3", "usable fuel", _flown(lambda f: f.usable)),
        "stranded": Result(
            "m3",
            "fuel left in all tanks when the engines stop",
            _flown(lambda f: sum(f.stranded.values())),
        ),
        "landed-with": Result(
            "m3", "usable fuel left after the stated flight", _flown(lambda f: f.landed_with)
        ),
        "flame-out": Result(
            "s",
            "when the first engine stops in the stated flight",
            _flown(lambda f: _first(f.flame_out)),
        ),
        "air-at-pump": Result(
            "s",
            "when air first reaches a pump in the stated flight",
            _flown(lambda f: _first({n: g.first for n, g in f.air_at_pump.items()})),
        ),
        "header-air": Result(
            "m3",
            "most air in a header in the stated flight",
            _flown(lambda f: max(f.header_air.values(), default=None)),
        ),
        "cg-forward": Result("m", "foremost CG in the stated flight", _flown(_cg(lambda a, _: a))),
        "cg-aft": Result("m", "rearmost CG in the stated flight", _flown(_cg(lambda _, b: b))),
        "cg-range": Result("m", "travel of the CG", _flown(_cg(lambda a, b: b - a))),
        "findings": Result("", "number of findings", _counted("unsafe", "fault", "advice")),
        "unsafe": Result("", "findings that are unsafe", _counted("unsafe")),
        "faults": Result("", "findings that are faults", _counted("fault")),
        "advice": Result("", "findings that are advice", _counted("advice")),
        "unchecked": Result("", "checks that lacked data", _counted("unchecked")),
    }
)
