"""The flight and its dry run in every sample at once."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags
from plumbing.simulation import endurance
from plumbing.simulation.airstream import coefficients
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.flight import airborne_again, feeding_for, lengthened
from plumbing.simulation.march import march
from plumbing.simulation.moment import Moment, Stretches
from plumbing.simulation.profile import Profile
from plumbing.studies.spread.draws import Draws
from plumbing.studies.spread.steady import fluids_of

_AIR = 1.0 - 1e-6  # liquid share below which a pump has air


@dataclass(frozen=True, slots=True, eq=False)
class Flights:
    """Flights of N samples with T tanks.

    Attributes
    ----------
    endurance : Array
        Time in the air until the first engine stops, shape (N,) [s].
    margin : Array
        Usable fuel at the end of the stated flight less the reserve, shape (N,) [m3].
    air, stopped : Array
        1 where air reaches a pump, or an engine stops, in the stated flight, shape (N,).
    gathered : Array
        Most air in each tank over what it held, in the stated flight, shape (N, T) [-].
    stranded : Array
        Fuel left in each tank when the last engine stopped in the dry run, shape (N, T) [m3].
    held : Array
        Fuel in each tank at the start, shape (T,) [m3].
    capacity : Array
        Shape (T,) [m3].
    """

    endurance: Array
    margin: Array
    air: Array
    stopped: Array
    gathered: Array
    stranded: Array
    held: Array
    capacity: Array


class _Watch:
    """Keeps what counts of every moment of all samples."""

    def __init__(self, samples: int, volume: Array) -> None:
        self.lowest = np.array(volume)
        self.air = np.zeros(samples, dtype=bool)
        self.stop = np.full(samples, np.inf)
        self.usable = np.zeros(samples)
        self._time, self._burnt = np.zeros(samples), np.zeros(samples)

    def __call__(self, moment: Moment) -> None:
        """See a moment."""
        np.minimum(self.lowest, moment.volume, out=self.lowest)
        self.air |= (moment.share < _AIR).any(axis=1)
        burnt = moment.burnt.sum(axis=1)
        dry = moment.dry.max(axis=1, initial=0.0)
        new = np.isinf(self.stop) & (dry >= endurance.STOPS_AFTER)
        if new.any():
            stop = moment.time - dry + endurance.STOPS_AFTER
            step = np.maximum(moment.time - self._time, 1e-12)
            part = np.clip((stop - self._time) / step, 0.0, 1.0)
            usable = self._burnt + part * (burnt - self._burnt)
            self.stop[new], self.usable[new] = stop[new], usable[new]
        self._time, self._burnt = moment.time, burnt


def flights(
    layout: Layout, survey: Survey, profile: Profile, draws: Draws, factor: Array
) -> Flights:
    """Fly every sample.

    Parameters
    ----------
    layout, survey
        The layout.
    profile : Profile
        The flight.
    draws : Draws
        N samples.
    factor : Array
        Factor on the loss of each branch, shape (N, B).

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank, or a flight does not go on.
    """
    feeding = replace(
        drawn := feeding_for(layout, survey, profile),
        flow=drawn.flow * draws.flow[:, None, None],
        fluids=fluids_of(layout, draws.celsius, draws.viscosity, draws.pore),
        multiplier=factor,
        raised=draws.raised,
        coefficient=coefficients(layout, drawn.plumbed, draws.coefficient),
    )
    thirstless = replace(drawn, flow=feeding.flow.min(axis=0)[None])
    again, longer = airborne_again(thirstless, profile)
    onwards = lengthened(profile.only(again), longer)
    held = np.array([tank.fill for tank in layout.tanks.values()]) * feeding.tanks.capacity
    stated, end = _marched(feeding, profile, held)
    dry, last = _marched(feeding.only(again), onwards, held)
    usable = np.where(np.isinf(dry.stop), last.burnt.sum(axis=1), dry.usable)
    stopped = np.isfinite(stated.stop)
    landed = np.where(stopped, 0.0, np.maximum(usable - end.burnt.sum(axis=1), 0.0))
    full = layout.full_flow
    reserve = np.maximum(
        layout.reserve.share * usable, layout.reserve.full_throttle * full * draws.flow
    )
    return Flights(
        endurance=_aloft(onwards, np.minimum(dry.stop, last.time)),
        margin=landed - reserve,
        air=stated.air.astype(float),
        stopped=stopped.astype(float),
        gathered=(feeding.tanks.capacity - stated.lowest) / np.maximum(held, 1e-9),
        stranded=np.maximum(last.volume, 0.0),
        held=held,
        capacity=feeding.tanks.capacity,
    )


def _marched(feeding: Feeding, profile: Profile, held: Array) -> tuple[_Watch, Moment]:
    samples = len(feeding.flow)
    volume = np.tile(held, (samples, 1))
    watch = _Watch(samples, volume)
    end = march(
        feeding.tanks,
        Stretches(profile.duration, feeding.index),
        volume,
        feeding.remembering(samples),
        stop=_all_stopped,
        see=watch,
        patience=endurance.STOPS_AFTER,
    )
    return watch, end


def _all_stopped(moment: Moment) -> Flags:
    return np.asarray((moment.dry >= endurance.STOPS_AFTER).all(axis=1))


def _aloft(profile: Profile, time: Array) -> Array:
    """Time in the air until then, shape (N,) [s]."""
    ends = np.concatenate([[0.0], np.cumsum(profile.duration)])
    flown = np.concatenate([[0.0], np.cumsum(profile.duration * profile.airborne)])
    return np.asarray(np.interp(time, ends, flown))
