"""Values of what is uncertain, drawn evenly from their distributions.

A tolerance is taken as two standard deviations of a normal distribution, so that 95 of 100 values
lie within it; nothing lies beyond three halves of it. Fuel temperature is triangular: between the
coldest and the hottest, likeliest at the usual one, and so are the pressure coefficient of an
outlet and the gas share that stops an engine, where none is stated. Every bore of a layout is off
by the same, as from one batch of tube and joints; every line is cut and every tank placed on its
own.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.airstream import coefficient_of
from plumbing.simulation.engines import gas_share_of

REPLICATES = 8  # independent scramblings, from which the standard errors follow
DEVIATIONS = 2.0  # standard deviations in a tolerance
_FARTHEST = 3.0  # standard deviations; nothing lies beyond
_LEAST = 0.05  # factors stay above this

BORE, VISCOSITY, FLOW, WARMTH, PORE = "bore", "viscosity", "engine flow", "fuel temperature", "pore"
PLACE, CUT, STREAM = "tank position", "cut length", "outlet pressure"
GAS = "gas that stops an engine"


@frozen(eq=False)
class Draws:
    """N samples.

    Attributes
    ----------
    causes : tuple of str
        What each column of `unit` varies.
    unit : Array
        Between 0 and 1, shape (N, C).
    bore : Array
        Added to every bore, shape (N,) [m].
    viscosity, flow, pore : Array
        Factors, shape (N,) [-].
    celsius : Array
        Fuel temperature, shape (N,) [degC].
    raised : Array
        Tanks higher than drawn, shape (N, T) [m].
    longer : Array
        Lines longer than stated, shape (N, L) [m].
    coefficient : Array
        Pressure coefficient of every outlet, shape (N, O) [-].
    gas : Array
        Gas share at which each engine goes out, shape (N, E) [-].
    """

    causes: tuple[str, ...]
    unit: Array
    bore: Array
    viscosity: Array
    flow: Array
    pore: Array
    celsius: Array
    raised: Array
    longer: Array
    coefficient: Array
    gas: Array

    def rows(self, chosen: Indices) -> Draws:
        """Those samples only."""
        arrays = (self.bore, self.viscosity, self.flow, self.pore, self.celsius)
        picked = (
            array[chosen]
            for array in (self.unit, *arrays, self.raised, self.longer, self.coefficient, self.gas)
        )
        return Draws(self.causes, *picked)


def draw(layout: Layout, samples: int, seed: int) -> Draws:
    """Draw samples: eight scrambled Sobol sequences, their points in turn.

    Twice as many samples of the same seed begin with the same ones.

    Parameters
    ----------
    layout : Layout
        Its tolerances and fuel temperatures.
    samples : int
        Number N, eight times a power of two.
    seed : int
        The same seed draws the same.
    """
    from scipy.stats import qmc

    causes = causes_of(layout)
    seeds = np.random.SeedSequence(seed).spawn(REPLICATES)
    sequences = [
        qmc.Sobol(len(causes), rng=np.random.default_rng(own)).random(samples // REPLICATES)
        for own in seeds
    ]
    return drawn(layout, np.stack(sequences, axis=1).reshape(samples, len(causes)))


def causes_of(layout: Layout) -> tuple[str, ...]:
    """What each column of the samples varies."""
    tanks, lines = len(layout.tanks), len(layout.lines)
    streams, gases = (sum(low < high for _, low, high in one) for one in _bands(layout))
    places = (*(PLACE,) * tanks, *(CUT,) * lines, *(STREAM,) * streams, *(GAS,) * gases)
    return (BORE, VISCOSITY, FLOW, WARMTH, PORE, *places)


def drawn(layout: Layout, unit: Array) -> Draws:
    """Values from numbers between 0 and 1, shape (N, C)."""
    from scipy.special import ndtr, ndtri

    tanks, lines = len(layout.tanks), len(layout.lines)
    streams, gases = _bands(layout)
    columns = iter(unit[:, 5 + tanks + lines :].T)
    tail = float(ndtr(-_FARTHEST))
    normal = ndtri(tail + (1.0 - 2.0 * tail) * unit) / DEVIATIONS
    given = layout.tolerances
    return Draws(
        causes=causes_of(layout),
        unit=unit,
        bore=given.bore * normal[:, 0],
        viscosity=_factor(given.viscosity * normal[:, 1]),
        flow=_factor(given.flow * normal[:, 2]),
        celsius=_temperatures(layout, unit[:, 3]),
        pore=_factor(given.pore * normal[:, 4]),
        raised=given.position * normal[:, 5 : 5 + tanks],
        longer=given.cut_length * normal[:, 5 + tanks : 5 + tanks + lines],
        coefficient=_drawn_from(streams, columns, len(unit)),
        gas=_drawn_from(gases, columns, len(unit)),
    )


def _factor(change: Array) -> Array:
    return np.asarray(np.maximum(1.0 + change, _LEAST))


def _temperatures(layout: Layout, unit: Array) -> Array:
    warmth = layout.fuel.temperature
    return _triangular(unit, warmth.coldest, warmth.usual, warmth.hottest)


Band = tuple[float, float, float]


def _bands(layout: Layout) -> tuple[list[Band], list[Band]]:
    """Likely, low and high value of every outlet's coefficient and every engine's gas share."""
    streams = [coefficient_of(one) for one in layout.outlets.values()]
    return streams, [gas_share_of(one) for one in layout.engines.values()]


def _drawn_from(bands: list[Band], columns: Iterator[Array], samples: int) -> Array:
    """Values within their bands, shape (N, K); one column between 0 and 1 for each unsure one."""
    drawn = [
        _triangular(next(columns) if low < high else np.zeros(samples), low, likely, high)
        for likely, low, high in bands
    ]
    return np.stack(drawn, axis=1) if drawn else np.zeros((samples, 0))


def _triangular(unit: Array, low: float, mode: float, high: float) -> Array:
    """Inverse of the triangular distribution."""
    if high <= low:
        return np.full(len(unit), mode)
    mode = min(max(mode, low), high)
    turn = (mode - low) / (high - low)
    rising = low + np.sqrt(unit * (high - low) * (mode - low))
    falling = high - np.sqrt((1.0 - unit) * (high - low) * (high - mode))
    return np.where(unit < turn, rising, falling)
