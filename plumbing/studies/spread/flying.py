"""The flight and its dry run in every sample at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags
from plumbing.simulation.airstream import coefficients
from plumbing.simulation.engines import Engines, Stops, engines_for
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.flight import airborne_again, feeding_for, lengthened
from plumbing.simulation.march import march
from plumbing.simulation.moment import Moment, Stretches
from plumbing.simulation.profile import Profile
from plumbing.simulation.slugs import Slugs, slugs_for
from plumbing.stopping import part
from plumbing.studies.spread.draws import Draws
from plumbing.studies.spread.steady import fluids_of

_AIR = 1.0 - 1e-6  # liquid share below which a pump has air


@frozen(eq=False)
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
    met : Flags
        Whether the network found a state to the end of both flights, shape (N,).
    gathered : Array
        Most air in each tank over what it held, in the stated flight, shape (N, T) [-].
    stranded : Array
        Fuel in each tank when it failed the engine that stopped first in the dry run, (N, T) [m3].
    held : Array
        Fuel in each tank at the start, shape (T,) [m3].
    capacity : Array
        Shape (T,) [m3].
    """

    endurance: Array
    margin: Array
    air: Array
    stopped: Array
    met: Flags
    gathered: Array
    stranded: Array
    held: Array
    capacity: Array


class _Watch:
    """Keeps what counts of every moment of all samples."""

    def __init__(self, engines: Engines, slugs: Slugs, volume: Array) -> None:
        self.stops = Stops(engines, slugs)
        self.lowest = np.array(volume)
        self.slugs = slugs
        self.entered: Array = np.full((len(volume), slugs.flow.shape[2]), np.inf)

    def __call__(self, moment: Moment) -> None:
        """See a moment."""
        self.stops(moment)
        np.minimum(self.lowest, moment.volume, out=self.lowest)
        first = (moment.share < _AIR) & np.isinf(self.entered)
        self.entered = np.where(first, moment.time[:, None], self.entered)

    @property
    def air(self) -> Flags:
        """Whether air reaches a pump, shape (N,)."""
        return np.asarray(np.isfinite(self.slugs.at_pump(self.entered)).any(axis=1))


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
    held = feeding.tanks.filled([tank.fuel for tank in layout.tanks.values()])
    engines = engines_for(layout, survey, feeding.plumbed.demands, draws.gas)
    slugs = slugs_for(layout, survey, feeding.plumbed.demands, profile.duration, feeding.flow)
    with part(0.0, 0.5):
        stated = _marched(feeding, engines, slugs, held)
    farther = feeding.only(again)
    longer_slugs = replace(slugs, duration=onwards.duration, flow=farther.flow)
    with part(0.5, 1.0):
        dry = _marched(farther, engines, longer_slugs, held).stops
    ended = stated.stops
    usable, end = dry.burnt, ended.end
    stopped = np.isfinite(ended.stop)
    more = np.maximum(end.spilt.sum(axis=1) - dry.lost, 0.0)
    left = np.maximum(usable - end.burnt.sum(axis=1) - more, 0.0)
    landed = np.where(stopped, 0.0, left)
    full = layout.full_flow
    reserve = np.maximum(
        layout.reserve.share * usable, layout.reserve.full_throttle * full * draws.flow
    )
    return Flights(
        endurance=onwards.aloft(dry.time),
        margin=landed - reserve,
        air=stated.air.astype(float),
        stopped=stopped.astype(float),
        met=ended.end.met & dry.end.met,
        gathered=(feeding.tanks.capacity - stated.lowest) / np.maximum(held, 1e-9),
        stranded=dry.held,
        held=held,
        capacity=feeding.tanks.capacity,
    )


def _marched(feeding: Feeding, engines: Engines, slugs: Slugs, held: Array) -> _Watch:
    samples = len(feeding.flow)
    volume = np.tile(held, (samples, 1))
    watch = _Watch(engines, slugs, volume)
    march(
        feeding.tanks,
        Stretches(slugs.duration, feeding.index),
        volume,
        feeding.remembering(samples),
        stop=watch.stops.over,
        see=watch,
        flame_out=engines.flame_out,
    )
    return watch
