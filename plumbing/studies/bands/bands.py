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
from plumbing.frozen import frozen
from plumbing.hydraulics.compile import compile_suction
from plumbing.model.layout import Layout
from plumbing.network import Survey, survey
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
_FLOOR = ".floor"
_HARDEST = "loaded-suction-too-high"
Case = Mapping[Guess, float]
Outcomes = dict[tuple[str, str], Outcome]


def bands(layout: Layout, found: Survey, peak: Peak, limits: Mapping[str, float]) -> Bands:
    """Compute every number over the range of all values that the file leaves out.

    Parameters
    ----------
    layout, found
        The layout with the usual values, and its survey.
    peak : Peak
        Its peak flow, whose suctions and their own bands are those that are widened.
    limits : mapping of str to float
        Limit of each check [SI].
    """
    set_up = bench(layout, found)
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
        self.shown = _shown(set_up.layout, peak)
        self.unsolved: dict[str, str] = {}

    def result(self) -> Bands:
        """Bands of all numbers."""
        alone: list[Case] = [{}]
        for guess in self.guesses:
            alone += [{guess: guess.low}, {guess: guess.high}]
        first = self.outcomes(self.set_up, alone)
        heads = {key: self.heads(one) for key, one in first.items()}
        ends = {key: _ends(one, self.guesses) for key, one in first.items()}
        pairs = (case for pair in ends.values() for case in pair)
        cases = [{}, *{tuple(case.values()): case for case in pairs}.values()]
        sized = [self.sized(end) for end in (0, 1)] if self.sizes else []
        more = [self.outcomes(one, cases) for one in (self.set_up, *sized) if one is not None]
        for key, one in first.items():
            self.with_sizes(one, [other[key] for other in more[1:] if key in other])
        made = [
            _band(one, [rest[key] for rest in more if key in rest], self.shown[key], up, heads[key])
            for key, one in first.items()
            for up in (self.raised(one),)
            if key in self.shown
        ]
        hardest = next((ends[key] for key, one in first.items() if one.check == _HARDEST), ())
        laid_ends = [laid(self.set_up.layout, case) for case in hardest]
        return Bands(self.guesses, tuple(made), tuple(laid_ends), self.unsolved)

    def heads(self, one: Outcome) -> float:
        """What places of pumps, and places fore and aft, make of a suction, all together [Pa].

        They change the head alone, which grows with the largest load factor; it is written into
        the rows of these guesses.
        """
        craft, whole = self.set_up.layout.aircraft.load_factors, 0.0
        loaded = one.check == _HARDEST
        along = max(abs(craft.forward), abs(craft.braking)) if loaded else 0.0
        down = max(abs(craft.positive), abs(craft.negative)) if loaded else 1.0
        weight = GRAVITY * _density(self.set_up.layout)
        islands = self.set_up.survey.islands
        system = next((island.parts for island in islands if one.part in island.parts), ())
        for number, guess in enumerate(self.guesses):
            _, name, *keys = guess.paths[0].split(".")
            factor = {"aft": along, "height": down if name == one.part else 0.0}.get(keys[-1], 0.0)
            factor *= name in system
            head = factor * weight * (guess.high - guess.usual)
            if head > 0.0:
                one.values[1 + 2 * number : 3 + 2 * number] = one.values[0] + np.array(
                    [-head, head]
                )
                whole += head
        return whole

    def raised(self, one: Outcome) -> float:
        """What heights add to a suction at most, all together [Pa]."""
        rows = [
            1 + 2 * number
            for number, guess in enumerate(self.guesses)
            if guess.paths[0].endswith(_FLOOR)
        ]
        return float(sum(one.values[row : row + 2].max() - one.values[0] for row in rows))

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
            plumbed = compile_suction(one, _surveyed(set_up, one), set_up.reference)
            circuits.append(set_up.plumbed.circuit if plumbed is None else plumbed.circuit)
        found = steady(set_up, _draws(set_up, layouts, cases), circuits)
        told = suctions(set_up, [found], self.limits, self.unsolved)
        return {(one.what, one.part): one for one in told if one.check}


def _without(case: Case, sizes: tuple[Guess, ...]) -> Case:
    return {guess: value for guess, value in case.items() if guess not in sizes}


def _surveyed(set_up: Bench, layout: Layout) -> Survey:
    """Survey of a layout that differs at most in lengths and sizes from the one set up."""
    before, after = set_up.layout.lines, layout.lines
    same = all(line.cut_length == before[name].cut_length for name, line in after.items())
    return set_up.survey if same else survey(layout)


@frozen
class Shown:
    """A suction as the check shows it, with the band of bores and fittings, and the head in it."""

    figure: Figure
    head: float


def _shown(layout: Layout, peak: Peak) -> dict[tuple[str, str], Shown]:
    """Suctions as the check shows them."""
    weight = GRAVITY * _density(layout)
    return {
        (words, one.pump): Shown(figure, weight * one.pump_height)
        for one in peak.engines.values()
        for words, figure in zip(
            SUCTIONS.values(),
            (one.suction, one.coldest.suction, one.loaded.suction, one.dirty.suction),
            strict=True,
        )
    }


def _density(layout: Layout) -> float:
    usual = np.array([layout.fuel.temperature.usual])
    return float(fluids_at(layout, usual).liquid_density[0])


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
    """How much higher every tank is than drawn [m]."""
    tanks = list(set_up.layout.tanks)
    raised = dict.fromkeys(tanks, 0.0)
    for guess, value in case.items():
        for path in guess.paths:
            section, name, *keys = path.split(".")
            if section == "tanks" and keys == ["floor"]:
                raised[name] += value - guess.usual
    return list(raised.values())


def _ends(outcome: Outcome, guesses: tuple[Guess, ...]) -> tuple[Case, Case]:
    """Every guess where it alone makes a number greatest, and where it makes it least."""
    most: dict[Guess, float] = {}
    least: dict[Guess, float] = {}
    usual = outcome.values[0]
    for number, guess in enumerate(guesses):
        low, high = outcome.values[1 + 2 * number : 3 + 2 * number]
        seen = {guess.low: low, guess.high: high, guess.usual: usual}
        most[guess] = max(seen, key=lambda value: seen[value])
        least[guess] = min(seen, key=lambda value: seen[value])
        if most[guess] == least[guess]:  # it does nothing here; elsewhere both ends may count
            most[guess], least[guess] = guess.low, guess.high
    return most, least


def _band(first: Outcome, more: list[Outcome], shown: Shown, raised: float, head: float) -> Band:
    """Band of one number from all its cases, the first of which is the usual one."""
    base, usual = shown.figure, float(first.values[0])
    values = np.concatenate([first.values, *(one.values for one in more)])
    values += base.value - usual
    ends = float(values.min()) - head, float(values.max()) + head
    figure = _widened(shown, *ends, raised + head)
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


def _widened(shown: Shown, least: float, most: float, raised: float) -> Figure:
    """A figure over a band: what bores and fittings make unsure grows with the loss, not the head.

    Parameters
    ----------
    shown : Shown
        The figure with the usual values, and the head in it.
    least, most : float
        Ends of the band [Pa].
    raised : float
        What heights add to its upper end [Pa].
    """
    base, loss = shown.figure, shown.figure.value - shown.head
    low, high = base.band
    grown = max(1.0 + (most - base.value - raised) / loss, 1.0) if loss > 0.0 else 1.0
    return replace(base, low=least - (base.value - low), high=most + grown * (high - base.value))


def _effects(values: Array) -> Iterator[tuple[float, float]]:
    for number in range(1, len(values), 2):
        seen = (*values[number : number + 2], values[0])
        yield float(min(seen)), float(max(seen))
