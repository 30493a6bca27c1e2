"""The cases peak flow is solved in: every temperature, load factor and state of the filters."""

from __future__ import annotations

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.attitude import specific_force_to_gravity
from plumbing.model.aircraft import Aircraft
from plumbing.model.fuel import TemperatureRange
from plumbing.physics.arrays import Array, Flags, Indices

TEMPERATURES = 41
CLEAN, DIRTY = "clean", "due for change"


@frozen(eq=False)
class PeakCases:
    """S cases: all temperatures under all loads, clean and dirty.

    Attributes
    ----------
    loads : tuple of str
        Load factors in words; the first is 1 g level.
    celsius : Array
        Shape (S,) [degC].
    load : Indices
        Shape (S,).
    gravity : Array
        Shape (S, 3) [m/s2].
    dirty : Flags
        Shape (S,).
    """

    loads: tuple[str, ...]
    celsius: Array
    load: Indices
    gravity: Array
    dirty: Flags

    def where(self, load: int | None = None, dirty: bool = False) -> Indices:
        """Cases with those filters, under one load or any."""
        chosen = self.dirty == dirty
        if load is not None:
            chosen &= self.load == load
        return np.flatnonzero(chosen)


def peak_cases(aircraft: Aircraft, temperature: TemperatureRange) -> PeakCases:
    """Cases of an aircraft: the usual temperature first, then the whole range evenly."""
    factors = aircraft.load_factors
    felt = {
        "1 g level": (0.0, 1.0),
        f"pulling {factors.positive:g} g": (0.0, factors.positive),
        f"pushing {factors.negative:g} g": (0.0, factors.negative),
        f"accelerating {factors.forward:g} g": (factors.forward, 1.0),
        f"braking {factors.braking:g} g": (-factors.braking, 1.0),
    }
    gravity = np.stack(
        [specific_force_to_gravity(-forward, 0.0, up) for forward, up in felt.values()]
    )
    span = np.linspace(temperature.coldest, temperature.hottest, TEMPERATURES - 1)
    celsius = np.concatenate([[temperature.usual], span])
    load, dirty, warmth = np.meshgrid(
        np.arange(len(felt)), [False, True], np.arange(TEMPERATURES), indexing="ij"
    )
    return PeakCases(
        loads=tuple(felt),
        celsius=celsius[warmth.ravel()],
        load=load.ravel().astype(np.intp),
        gravity=gravity[load.ravel()],
        dirty=dirty.ravel().astype(bool),
    )
