"""Suctions over all that the values left out could be: one at a time, then all at their worst.

Each value alone goes to both ends of its range; then, for every number, all of them together
where it was greatest and where it was least. So the bands hold where a number rises or falls with
each value, as suctions do; they are what was seen, not a proof, where it does not.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from plumbing.findings import Figure, Guess
from plumbing.hydraulics.compile import compile_suction
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.airstream import coefficient_of
from plumbing.simulation.engines import gas_share_of
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.peak_result import Peak
from plumbing.studies.bands.laid import laid
from plumbing.studies.bands.result import Band, Bands
from plumbing.studies.spread.computing import SUCTIONS, suctions
from plumbing.studies.spread.draws import Draws
from plumbing.studies.spread.result import Outcome
from plumbing.studies.spread.steady import Bench, bench, steady

_SIZE = "shape.size"  # of a tank: not in the batch, which has one table of levels for all
_AFT = ".aft"
_HARDEST = "loaded-suction-too-high"
Case = Mapping[Guess, float]
Outcomes = dict[tuple[str, str], Outcome]


def bands(layout: Layout, survey: Survey, peak: Peak, limits: Mapping[str, float]) -> Bands:
    """Compute every number over the range of all values that the file leaves out.

    Parameters
    ----------
    layout, survey
        The layout with the usual values.
    peak : Peak
        Its peak flow, whose suctions and their own bands are those that are widened.
    limits : mapping of str to float
        Limit of each check [SI].
    """
    set_up = bench(layout, survey)
    if set_up is None:
        why = "no pump or engine draws fuel from a tank through open lines"
        return Bands(layout.guesses, (), (), {"bands": why})
    study = _Study(set_up, peak, limits)
    return study.result()


class _Study:
    """All cases of one layout."""

    def __init__(self, set_up: Bench, peak: Peak, limits: Mapping[str, float]) -> None:
        self.set_up, self.limits = set_up, limits
        self.guesses = set_up.layout.guesses
        self.sizes = tuple(one for one in self.guesses if one.paths[0].endswith(_SIZE))
        self.shown = _shown(peak)
        self.unsolved: dict[str, str] = {}

    def result(self) -> Bands:
        """Bands of all numbers."""
        alone: list[Case] = [{}]
        for guess in self.guesses:
            alone += [{guess: guess.low}, {guess: guess.high}]
        first = self.outcomes(self.set_up, alone)
        aft = self.aft(first)
        ends = {key: _ends(one, self.guesses) for key, one in first.items()}
        pairs = (case for pair in ends.values() for case in pair)
        cases = [{}, *{tuple(case.values()): case for case in pairs}.values()]
        sized = [self.sized(end) for end in (0, 1)] if self.sizes else []
        more = [self.outcomes(one, cases) for one in (self.set_up, *sized) if one is not None]
        for key, one in first.items():
            self.with_sizes(one, [other[key] for other in more[1:] if key in other])
        made = [
            _band(one, [rest[key] for rest in more if key in rest], self.shown.get(key), aft)
            for key, one in first.items()
        ]
        hardest = next((ends[key] for key, one in first.items() if one.check == _HARDEST), ())
        laid_ends = [laid(self.set_up.layout, case) for case in hardest]
        return Bands(self.guesses, tuple(made), tuple(laid_ends), self.unsolved)

    def aft(self, first: Outcomes) -> float:
        """What places fore and aft make of the suction under load, all together [Pa].

        The head along the aircraft grows with the largest load factor along it; it is written into
        the rows of these guesses.
        """
        layout, whole = self.set_up.layout, 0.0
        loads = layout.aircraft.load_factors
        head = GRAVITY * max(abs(loads.forward), abs(loads.braking))
        head *= float(
            fluids_at(layout, np.array([layout.fuel.temperature.usual])).liquid_density[0]
        )
        for number, guess in enumerate(self.guesses):
            if guess.paths[0].endswith(_AFT):
                whole += head * (guess.high - guess.usual)
                for one in first.values() if guess.high > guess.low else ():
                    if one.check == _HARDEST:
                        one.values[1 + 2 * number] -= head * (guess.usual - guess.low)
                        one.values[2 + 2 * number] += head * (guess.high - guess.usual)
        return whole

    def sized(self, end: int) -> Bench | None:
        """The layout with every tank low, or tall."""
        layout = laid(self.set_up.layout, {one: (one.low, one.high)[end] for one in self.sizes})
        return bench(layout, self.set_up.survey)

    def with_sizes(self, first: Outcome, others: list[Outcome]) -> None:
        """Write what other sizes of tanks make of a number into the rows of these guesses.

        All tanks were made low or tall at once; each has an even share of what that does.
        """
        usual = first.values[0]
        for guess in self.sizes:
            row = 1 + 2 * self.guesses.index(guess)
            for end, other in enumerate(others):
                first.values[row + end] = usual + (other.values[0] - usual) / len(self.sizes)

    def outcomes(self, set_up: Bench, cases: list[Case]) -> Outcomes:
        """Compute cases in one batch."""
        layouts = [laid(set_up.layout, _without(case, self.sizes)) for case in cases]
        circuits = []
        for one in layouts:
            plumbed = compile_suction(one, set_up.survey, set_up.reference)
            circuits.append(set_up.plumbed.circuit if plumbed is None else plumbed.circuit)
        found = steady(set_up, _draws(set_up, layouts, cases), circuits)
        told = suctions(set_up, [found], self.limits, self.unsolved)
        return {(one.what, one.part): one for one in told if one.check}


def _without(case: Case, sizes: tuple[Guess, ...]) -> Case:
    return {guess: value for guess, value in case.items() if guess not in sizes}


def _shown(peak: Peak) -> dict[tuple[str, str], Figure]:
    """Suctions as the check shows them, with the band of bores and fittings."""
    return {
        (words, one.pump): figure
        for one in peak.engines.values()
        for words, figure in zip(
            SUCTIONS.values(),
            (one.suction, one.coldest.suction, one.loaded.suction, one.dirty.suction),
            strict=True,
        )
    }


def _draws(set_up: Bench, layouts: list[Layout], cases: list[Case]) -> Draws:
    layout, count = set_up.layout, len(cases)
    ones, nothing = np.ones(count), np.zeros(count)
    streams = [coefficient_of(one)[0] for one in layout.outlets.values()]
    gases = [gas_share_of(one)[0] for one in layout.engines.values()]
    full = layout.full_flow or 1.0
    flows = np.array([one.full_flow for one in layouts])
    return Draws(
        causes=(),
        unit=np.zeros((count, 0)),
        bore=nothing,
        viscosity=ones,
        flow=np.where(flows > 0.0, flows / full, 1.0),
        pore=ones,
        celsius=np.full(count, layout.fuel.temperature.usual),
        raised=np.array([_raised(set_up, case) for case in cases]),
        longer=np.zeros((count, len(layout.lines))),
        coefficient=np.tile(np.array(streams, float), (count, 1)),
        gas=np.tile(np.array(gases, float), (count, 1)),
    )


def _raised(set_up: Bench, case: Case) -> list[float]:
    """How much higher every tank is over the pump it feeds [m]."""
    tanks = list(set_up.layout.tanks)
    raised = dict.fromkeys(tanks, 0.0)
    for guess, value in case.items():
        for path in guess.paths:
            section, name, *keys = path.split(".")
            if section == "tanks" and keys == ["floor"]:
                raised[name] += value - guess.usual
            elif section == "pumps" and keys == ["height"]:
                for island in set_up.survey.islands:
                    for tank in set(tanks) & set(island.parts) if name in island.parts else ():
                        raised[tank] -= value - guess.usual
    return list(raised.values())


def _ends(outcome: Outcome, guesses: tuple[Guess, ...]) -> tuple[Case, Case]:
    """Every guess where it alone makes a number greatest, and where it makes it least."""
    most: dict[Guess, float] = {}
    least: dict[Guess, float] = {}
    usual = outcome.values[0]
    for number, guess in enumerate(guesses):
        low, high = outcome.values[1 + 2 * number : 3 + 2 * number]
        seen = {guess.usual: usual, guess.low: low, guess.high: high}
        most[guess] = max(seen, key=lambda value: seen[value])
        least[guess] = min(seen, key=lambda value: seen[value])
    return most, least


def _band(first: Outcome, more: list[Outcome], shown: Figure | None, aft: float) -> Band:
    """Band of one number from all its cases, the first of which is the usual one."""
    aft = aft if first.check == _HARDEST else 0.0
    usual = float(first.values[0])
    base = Figure(usual, first.kind) if shown is None else shown
    values = np.concatenate([first.values, *(one.values for one in more)])
    values += base.value - usual
    figure = _widened(base, float(values.min()) - aft, float(values.max()) + aft)
    every = replace(first, values=np.concatenate([values, figure.band]))
    found = every.found.astype(bool)
    return Band(
        what=first.what,
        part=first.part,
        figure=figure,
        check=first.check,
        limit=first.limit,
        found=(bool(found[0]), bool(found.any()), bool(found.all())),
        effects=tuple(_effects(first.values + (base.value - usual))),
    )


def _widened(base: Figure, least: float, most: float) -> Figure:
    """A figure over a band: what bores and fittings make unsure grows with the loss."""
    low, high = base.band
    grown = max(most / base.value, 1.0) if base.value > 0.0 else 1.0
    return replace(base, low=least - (base.value - low), high=most + grown * (high - base.value))


def _effects(values: Array) -> Iterator[tuple[float, float]]:
    for number in range(1, len(values), 2):
        seen = (*values[number : number + 2], values[0])
        yield float(min(seen)), float(max(seen))
