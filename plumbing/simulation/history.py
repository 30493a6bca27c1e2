"""From the recorded moments of a march to the history of a flight."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.balance import without_fuel
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.flight_result import History
from plumbing.simulation.moment import Balance, Moment
from plumbing.simulation.profile import Profile


@dataclass(slots=True)
class Record:
    """Keeps every step of the first scenario.

    A step stands in the record with both its ends, under the stretch it was made in, so that
    what changes at once between stretches is not seen as a slope.
    """

    moments: list[Moment] = field(default_factory=list)

    def __call__(self, moment: Moment) -> None:
        """Keep a moment, unless nothing has happened since the last."""
        last = self.moments[-1] if self.moments else None
        if last is None or moment.time[0] > last.time[0] or moment.stretch[0] > last.stretch[0]:
            self.moments.append(moment)

    def doubled(self, name: str) -> Array:
        """A quantity of the state at the start and end of every step, shape (N, ...)."""
        values = np.array([getattr(moment, name)[0] for moment in self.moments])
        return _in_turn(values[:-1], values[1:])

    def balances(self) -> Balance:
        """The network at the start and end of every step, N of them."""
        return Balance.joined(
            [side.rows([0]) for one in self.moments[1:] for side in (one.began, one.ended)]
        )

    @property
    def stretch(self) -> Indices:
        """Stretch each step was made in, twice, shape (N,)."""
        begun = [int(moment.stretch[0]) for moment in self.moments[:-1]]
        return np.repeat(np.array(begun, dtype=np.intp), 2)


def _in_turn(starts: Array, ends: Array) -> Array:
    """Both ends of every step, one after the other, shape (N, ...)."""
    return np.stack([starts, ends], axis=1).reshape(2 * len(starts), *starts.shape[1:])


def history_of(layout: Layout, feeding: Feeding, profile: Profile, record: Record) -> History:
    """History of the first scenario of a march.

    Parameters
    ----------
    layout : Layout
        For the masses.
    feeding : Feeding
        The network that marched.
    profile : Profile
        What was flown.
    record : Record
        What was seen.
    """
    stretch, volume = record.stretch, record.doubled("volume")
    level = np.zeros(len(stretch), dtype=np.intp)
    plumbed = feeding.plumbed
    found = record.balances()
    pressure = feeding.pressures(found, level, stretch)
    weights = feeding.fluids.liquid_density[0] * volume
    tanks, index = feeding.tanks, feeding.index[stretch]
    lying = found.volume if tanks.has_pockets else volume
    fuel = tanks.centroids(lying, index)
    beside = tanks.centroids(tanks.turned(lying, index, level), level)[:, :, 1]
    cg, mass = _balance(layout, profile, stretch, weights, fuel)
    return History(
        tanks=plumbed.tanks,
        pumps=plumbed.demands,
        time=record.doubled("time"),
        stretch=stretch,
        volume=volume,
        lying=lying,
        level=tanks.levels(lying, index),
        tankage=tanks,
        direction=index,
        share=found.share,
        flow=found.drawn,
        burnt=record.doubled("burnt"),
        outlets=plumbed.outlets,
        spilt=record.doubled("spilt"),
        outside=feeding.outside(level, stretch)[:, plumbed.outlet_node],
        suction=-pressure[:, plumbed.demand_node],
        pressure=np.where(plumbed.tank_node >= 0, pressure[:, plumbed.tank_node], 0.0),
        cg=cg,
        mass=mass,
        moment=GRAVITY * np.sum(weights * beside, axis=1),
    )


def _balance(
    layout: Layout, profile: Profile, stretch: Indices, weights: Array, fuel: Array
) -> tuple[Array | None, Array | None]:
    """Centre of gravity [m] and mass [kg] of the aircraft, moment by moment."""
    bare = without_fuel(layout)
    if bare is None:
        return None, None
    dry_mass, down, retracted = bare
    dry = np.where(profile.gear_up[stretch][:, None], retracted, down)
    mass = dry_mass + weights.sum(axis=1)
    moment = dry_mass * dry + np.einsum("nt,ntk->nk", weights, fuel)
    return moment / mass[:, None], mass
