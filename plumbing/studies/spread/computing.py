"""Samples computed batch by batch, and the numbers that come of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from plumbing.errors import SolveError
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.flight import profile_for
from plumbing.simulation.peak_networks import demand_of
from plumbing.stopping import going, part
from plumbing.studies.spread.draws import REPLICATES, Draws
from plumbing.studies.spread.flying import Flights, flights
from plumbing.studies.spread.result import Outcome
from plumbing.studies.spread.steady import Bench, Steady, places, steady, worst

_TOGETHER = 256  # samples computed at once, at most
_MOST_BRANCHES = 8000  # of all samples computed at once, so that memory is bounded
SUCTIONS = {
    "inlet-suction-too-high": "suction on a usual day",
    "cold-suction-too-high": "suction at the worst temperature",
    "loaded-suction-too-high": "suction under the worst load",
    "dirty-suction-too-high": "suction with dirty filters",
}


class Computing:
    """Computes samples, keeps what came of them, and goes on with more.

    Parameters
    ----------
    set_up : Bench
        The layout and its network.
    limits : mapping of str to float
        Limit of each check [SI].
    """

    def __init__(self, set_up: Bench, limits: Mapping[str, float]) -> None:
        self.set_up, self.limits = set_up, limits
        self.profile = profile_for(set_up.layout)
        self.unsolved: dict[str, str] = {}
        self.count = 0
        self._at_peak: list[Steady] = []
        self._aloft: list[Flights] = []

    @property
    def flight(self) -> str:
        """Flight that is flown; empty where none can be."""
        return "" if "flight" in self.unsolved else self.profile.name

    def anew(self) -> Computing:
        """The same without any sample."""
        return Computing(self.set_up, self.limits)

    def go_on(self, draws: Draws, whole: float, before: int = 0) -> None:
        """Compute those of the samples that come after the ones computed.

        Parameters
        ----------
        draws : Draws
            The samples, those computed before first.
        whole : float
            How many samples there are to compute in all.
        before : int
            How many of them somebody else has computed.

        Raises
        ------
        Stopped
            Whoever waits stopped it; the samples computed until then are kept.
        """
        together = self._together()
        while self.count < len(draws.bore):
            end = min(self.count + together, len(draws.bore))
            some = draws.rows(np.arange(self.count, end))
            with part((before + self.count) / whole, (before + end) / whole):
                going(0.0)
                found = steady(self.set_up, some)
                flown = self._flown(some, found.factor)
            self._at_peak.append(found)
            if flown is not None:
                self._aloft.append(flown)
            self.count = end

    def _together(self) -> int:
        """How many samples are computed at once: as many as fill all replicates, and fit."""
        fitting = _MOST_BRANCHES // len(self.set_up.plumbed.circuit.branches)
        return min(max(fitting // REPLICATES, 1) * REPLICATES, _TOGETHER)

    def outcomes(self) -> list[Outcome]:
        """Every number that the tolerances move, in every sample."""
        found = [*suctions(self.set_up, self._at_peak, self.limits, self.unsolved)]
        if self._aloft and "flight" not in self.unsolved:
            rows = _kept("flight", np.concatenate([one.met for one in self._aloft]), self.unsolved)
            found += _flights(self.set_up.layout, self._aloft, self.limits, rows)
        return found

    def _flown(self, draws: Draws, factor: Array) -> Flights | None:
        if "flight" in self.unsolved:
            return None
        if not self.set_up.reference.flow:
            self.unsolved["flight"] = "no engine states full-flow or thrust"
            return None
        if not self.profile.length > 0.0:
            self.unsolved["flight"] = f"no phase of flight {self.profile.name} lasts"
            return None
        try:
            return flights(self.set_up.layout, self.set_up.survey, self.profile, draws, factor)
        except SolveError as why:
            self.unsolved["flight"] = str(why)
            return None


def suctions(
    set_up: Bench, found: list[Steady], limits: Mapping[str, float], unsolved: dict[str, str]
) -> Iterator[Outcome]:
    """Suctions at every pump in every sample; `unsolved` gets what could not be computed."""
    layout, survey, plumbed = set_up.layout, set_up.survey, set_up.plumbed
    suction = np.concatenate([one.suction for one in found])
    good = np.concatenate([one.solved for one in found])
    where = places(set_up.cases)
    for name, engine in layout.engines.items():
        if survey.feeds[name].path is None:
            unsolved[name] = f"no fuel can reach {name}"
            continue
        if not engine.full_flow:
            unsolved[name] = f"engines.{name} states neither full-flow nor thrust"
            continue
        number = demand_of(survey, plumbed, name)
        rows = _kept(f"{name} at full flow", good[:, number], unsolved)
        if not rows.size:
            continue
        own, pump = suction[rows, :, number], plumbed.demands[number]
        yield Outcome("suction on the day", pump, "pressure", worst(own, where["day"]), rows)
        for check, words in SUCTIONS.items():
            values = worst(own, where[check])
            yield Outcome(words, pump, "pressure", values, rows, check, limits[check])


def _kept(what: str, met: Flags, unsolved: dict[str, str]) -> Indices:
    """Samples that were computed; how many were not is said."""
    rows, lost = np.flatnonzero(met), int((~met).sum())
    why = "no steady state of the network"
    if lost:
        unsolved[f"{what} in {lost} of {len(met)} samples"] = (
            f"{why}; all figures of it are over the others" if rows.size else why
        )
    return rows


def _flights(
    layout: Layout, found: list[Flights], limits: Mapping[str, float], rows: Indices
) -> Iterator[Outcome]:
    if not rows.size:
        return

    def joined(name: str) -> Array:
        return np.asarray(np.concatenate([getattr(one, name) for one in found])[rows])

    yield Outcome("endurance", "", "time", joined("endurance"), rows)
    yield Outcome(
        "landed with over the reserve", "reserve", "volume", joined("margin"), rows,
        "lands-below-reserve", 0.0, below=True,
    )  # fmt: skip
    for name, check in (
        ("air", "air-reaches-pump-in-flight"),
        ("stopped", "engine-stops-in-flight"),
    ):
        yield Outcome(name, "", "share", joined(name), rows, check, 0.5, listed=False)
    stranded, gathered, held = joined("stranded"), joined("gathered"), found[0].held
    for number, (name, tank) in enumerate(layout.tanks.items()):
        if tank.role == "header":
            check = "air-fills-header-in-flight"
            yield Outcome(
                "most air in it, of its fuel", name, "share", gathered[:, number], rows, check,
                limits[check],
            )  # fmt: skip
        elif held[number] > 0.0:
            check = "fuel-stranded"
            left = stranded[:, number]
            yield Outcome("stranded fuel", name, "volume", left, rows)
            share = left / held[number]
            yield Outcome(check, name, "share", share, rows, check, limits[check], listed=False)
