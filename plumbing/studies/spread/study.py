"""Run peak flow and the flight over the tolerances, and sum up what they make of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

import numpy as np

from plumbing.errors import SolveError, UsageError
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.simulation.flight import profile_for
from plumbing.simulation.peak_networks import demand_of
from plumbing.simulation.profile import Profile
from plumbing.studies.spread.draws import REPLICATES, Draws, draw
from plumbing.studies.spread.drivers import drivers
from plumbing.studies.spread.flying import Flights, flights
from plumbing.studies.spread.result import Chance, Outcome, Spread, Spreading
from plumbing.studies.spread.steady import Bench, Steady, bench, places, steady, worst

FEWEST, MOST = 64, 16_384
_TOGETHER = 256  # samples solved at once
_SUCTIONS = {
    "inlet-suction-too-high": "suction on a usual day",
    "cold-suction-too-high": "suction at the worst temperature",
    "loaded-suction-too-high": "suction under the worst load",
    "dirty-suction-too-high": "suction with dirty filters",
}


def spread(
    layout: Layout,
    survey: Survey,
    limits: Mapping[str, float],
    samples: int = 512,
    seed: int = 1,
    tell: Callable[[float], None] | None = None,
) -> Spreading:
    """Draw samples of what is uncertain and compute each.

    Parameters
    ----------
    layout, survey
        The layout.
    limits : mapping of str to float
        Limit of each check [SI].
    samples : int
        At least so many, 64 to 16 384; taken up to eight times a power of two.
    seed : int
        The same seed gives the same answer.
    tell : callable, optional
        Told the share done, 0 to 1.

    Returns
    -------
    Spreading
        Chances of findings, spreads of numbers, and what drives them.

    Raises
    ------
    UsageError
        The number of samples is outside its bounds.
    SolveError
        Nothing draws fuel from a tank.
    """
    if not FEWEST <= samples <= MOST:
        raise UsageError(f"{samples} samples; expected {FEWEST} to {MOST}")
    each = 1 << int(np.ceil(np.log2(samples / REPLICATES)))
    draws = draw(layout, each * REPLICATES, seed)
    set_up = bench(layout, survey)
    if set_up is None:
        raise SolveError("no pump or engine draws fuel from a tank through open lines")
    unsolved: dict[str, str] = {}
    profile = profile_for(layout)
    at_peak, aloft = [], []
    count = len(draws.bore)
    for begin in range(0, count, _TOGETHER):
        part = draws.rows(np.arange(begin, min(begin + _TOGETHER, count)))
        found = steady(set_up, part)
        at_peak.append(found)
        flown = _flown(set_up, profile, part, found.factor, unsolved)
        aloft += [flown] if flown is not None else []
        if tell is not None:
            tell((begin + len(part.bore)) / count)
    outcomes = [*_suctions(set_up, at_peak, limits, unsolved)]
    if aloft and "flight" not in unsolved:
        outcomes += _flights(layout, aloft, limits)
    flight = "" if "flight" in unsolved else profile.name
    return _summed(outcomes, draws, seed, flight, unsolved)


def _flown(
    set_up: Bench, profile: Profile, draws: Draws, factor: Array, unsolved: dict[str, str]
) -> Flights | None:
    if not set_up.reference.flow:
        unsolved["flight"] = "no engine states full-flow or thrust"
        return None
    if not profile.length > 0.0:
        unsolved["flight"] = f"no phase of flight {profile.name} lasts"
        return None
    try:
        return flights(set_up.layout, set_up.survey, profile, draws, factor)
    except SolveError as why:
        unsolved["flight"] = str(why)
        return None


def _suctions(
    set_up: Bench, found: list[Steady], limits: Mapping[str, float], unsolved: dict[str, str]
) -> Iterator[Outcome]:
    layout, survey, plumbed = set_up.layout, set_up.survey, set_up.plumbed
    suction = np.concatenate([one.suction for one in found])
    good = np.concatenate([one.solved for one in found])
    where = places(set_up.cases)
    for name, engine in layout.engines.items():
        if not engine.full_flow or survey.feeds[name].path is None:
            unsolved[name] = "no flow stated, or no fuel can reach it"
            continue
        number = demand_of(survey, plumbed, name)
        if not good[:, number].all():
            unsolved[name] = "no steady state at full flow in some of the samples"
            continue
        own, pump = suction[:, :, number], plumbed.demands[number]
        yield Outcome("suction on the day", pump, "pressure", worst(own, where["day"]))
        for check, words in _SUCTIONS.items():
            values = worst(own, where[check])
            yield Outcome(words, pump, "pressure", values, check, limits[check])


def _flights(
    layout: Layout, found: list[Flights], limits: Mapping[str, float]
) -> Iterator[Outcome]:
    def joined(name: str) -> Array:
        return np.concatenate([getattr(one, name) for one in found])

    yield Outcome("endurance", "", "time", joined("endurance"))
    yield Outcome(
        "landed with over the reserve", "reserve", "volume", joined("margin"),
        "lands-below-reserve", 0.0, below=True,
    )  # fmt: skip
    for name, check in (
        ("air", "air-reaches-pump-in-flight"),
        ("stopped", "engine-stops-in-flight"),
    ):
        yield Outcome(name, "", "share", joined(name), check, 0.5, listed=False)
    stranded, gathered, held = joined("stranded"), joined("gathered"), found[0].held
    for number, (name, tank) in enumerate(layout.tanks.items()):
        if tank.role == "header":
            check = "air-fills-header-in-flight"
            yield Outcome(
                "most air in it, of its fuel", name, "share", gathered[:, number], check,
                limits[check],
            )  # fmt: skip
        elif held[number] > 0.0:
            check = "fuel-stranded"
            left = stranded[:, number]
            yield Outcome("stranded fuel", name, "volume", left)
            share = left / held[number]
            yield Outcome(check, name, "share", share, check, limits[check], listed=False)


def _summed(
    outcomes: list[Outcome], draws: Draws, seed: int, flight: str, unsolved: Mapping[str, str]
) -> Spreading:
    chances = [
        Chance(one.check, one.part, float(one.found.mean()), _error(one.found, np.mean))
        for one in outcomes
        if one.check
    ]
    return Spreading(
        samples=len(draws.bore),
        seed=seed,
        flight=flight,
        chances=tuple(sorted(chances, key=lambda chance: -chance.chance)),
        spreads=tuple(_spread(one, draws) for one in outcomes if one.listed),
        error=max((chance.error for chance in chances), default=0.0),
        unsolved=unsolved,
    )


def _spread(one: Outcome, draws: Draws) -> Spread:
    low, middle, high = (float(value) for value in np.percentile(one.values, (5.0, 50.0, 95.0)))
    driven, explained = drivers(draws.causes, draws.unit, one.values)
    error = _error(one.values, np.median)
    return Spread(one.what, one.part, one.kind, low, middle, high, error, driven, explained)


def _error(values: Array, of: Callable[..., Array]) -> float:
    """Standard error of a mean or median: never less than plain random sampling would have.

    The scatter among the replicates alone is too hopeful for so few of them.
    """
    count = len(values)
    own = of(values.reshape(REPLICATES, -1), axis=1)
    scatter = float(np.std(own, ddof=1) / np.sqrt(REPLICATES))
    if of is np.mean:
        return max(scatter, float(np.std(values) / np.sqrt(count)))
    half = 0.5 / np.sqrt(count)
    below, above = np.quantile(values, (0.5 - half, 0.5 + half))
    return max(scatter, 0.5 * float(above - below))
