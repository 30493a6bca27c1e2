"""A suction network under way: its tanks, its stretches, and the conditions in each."""

from __future__ import annotations

from dataclasses import replace
from typing import Self, TypeVar

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.pumps import SUCTION_LIMIT
from plumbing.simulation.fluid import Fluids
from plumbing.simulation.state import TankEnds
from plumbing.simulation.tankage import Tankage


@frozen(eq=False)
class FuelNetwork:
    """Everything that stays the same while a batch of S scenarios marches through K stretches.

    Attributes
    ----------
    ends : TankEnds
        Circuit with B branches and P demands, and its ends in the tanks.
    gravity : Array
        Effective gravity of each stretch, shape (K, 3) [m/s2].
    index : Indices
        Direction of each stretch among those of the tankage, shape (K,).
    flow : Array
        Flow drawn by each demand in each stretch, shape (S or 1, K, P) [m3/s].
    fluids : Fluids
        Fuel and air, shape (S or 1,) each.
    stream : Array
        Dynamic pressure of the airstream in each stretch, shape (K,) [Pa].
    coefficient : Array
        Pressure coefficient of each node that is an opening, shape (S or 1, N) [-].
    blocked : Flags
        Closed branch ends, shape (S or 1, B, 2).
    multiplier : Array
        Factor on the loss of each branch, shape (S or 1, B).
    dirt : Array
        Factor on the drop of each filter, shape (S or 1, F).
    band : float
        Where in the band of the loss coefficients, 0 to 1.
    raised : Array or None
        How much higher than drawn each tank stands, shape (S or 1, T) [m].
    limit : float
        Suction at which a demand gets no more flow [Pa].
    slug : Array or None
        Height of liquid that flow entering at each branch end pushes up, (S or 1, B, 2) [m].
    propped : Flags or None
        Branch ends whose check valve stands open, shape (S or 1, B, 2).
    """

    ends: TankEnds
    gravity: Array
    index: Indices
    flow: Array
    fluids: Fluids
    stream: Array
    coefficient: Array
    blocked: Flags
    multiplier: Array
    dirt: Array
    band: float = 0.5
    raised: Array | None = None
    limit: float = SUCTION_LIMIT
    slug: Array | None = None
    propped: Flags | None = None

    def only(self, chosen: Indices) -> Self:
        """The same for those stretches only, in that order."""
        return replace(
            self,
            gravity=self.gravity[chosen],
            index=self.index[chosen],
            flow=self.flow[:, chosen],
            stream=self.stream[chosen],
        )

    @property
    def scenarios(self) -> int:
        """Number of scenarios S."""
        many = (self.flow, self.fluids.liquid_density, self.blocked, self.multiplier, self.dirt)
        return max(len(one) for one in (*many, self.coefficient))

    @property
    def plumbed(self) -> Plumbed:
        """The circuit."""
        return self.ends.plumbed

    @property
    def tanks(self) -> Tankage:
        """Tanks under the directions of gravity of the run."""
        return self.ends.tanks

    def conditions(self, rows: Indices, stretch: Indices, volume: Array) -> Conditions:
        """Conditions of some scenarios in some stretches, for fuel (R, T) or (R, C) [m3]."""
        fluids = self.fluids
        index = self.index[stretch]
        volume = self.tanks.lying(volume, index)
        share = self.ends.share(volume, index)
        density = pick(fluids.liquid_density, rows)
        weight = self.weight(rows, stretch)
        depth = self.ends.depth(volume, share, index)
        return Conditions.of(
            self.plumbed.circuit,
            gravity=self.gravity[stretch],
            liquid_density=density,
            liquid_viscosity=pick(fluids.liquid_viscosity, rows),
            gas_density=pick(fluids.gas_density, rows),
            gas_viscosity=pick(fluids.gas_viscosity, rows),
            fixed_pressure=self.outside(rows, stretch)
            + self.ends.bag_pressure(self.tanks.total(volume)),
            demand=self.plumbed.demand(self.wanted(rows, stretch)),
            head=self.ends.spread(
                weight[:, None] * depth + self._head_of_place(rows, stretch, density, share)
            ),
            share=self.ends.spread(share),
            threshold=self._threshold(rows, volume, index, weight),
            blocked=pick(self.blocked, rows),
            multiplier=pick(self.multiplier, rows),
            dirt=pick(self.dirt, rows),
            band=self.band,
        )

    def _threshold(self, rows: Indices, volume: Array, index: Indices, weight: Array) -> Array:
        """Pressures that hold each end shut, shape (R, B, 2) [Pa]."""
        held = self.ends.threshold(volume, index, pick(self.fluids.surface_tension, rows))
        if self.propped is not None:
            held = held - np.where(pick(self.propped, rows), self.plumbed.cracking, 0.0)
        if self.slug is not None:
            held = held + weight[:, None, None] * pick(self.slug, rows)
        return held

    def weight(self, rows: Indices, stretch: Indices) -> Array:
        """Weight of the fuel by volume, shape (R,) [Pa/m]."""
        density = pick(self.fluids.liquid_density, rows)
        return np.asarray(density * np.linalg.norm(self.gravity[stretch], axis=1))

    def outside(self, rows: Indices, stretch: Indices) -> Array:
        """Gauge pressure at the openings of some scenarios in some stretches, (R, N) [Pa]."""
        return self.stream[stretch, None] * pick(self.coefficient, rows)

    def _head_of_place(
        self, rows: Indices, stretch: Indices, density: Array, share: Array
    ) -> Array | float:
        """Head that raised tanks add to the liquid they deliver, shape (R, Q) [Pa]."""
        if self.raised is None:
            return 0.0
        weight = -density * self.gravity[stretch, 2]
        higher = pick(self.raised, rows)[:, self.ends.tank]
        added: Array = weight[:, None] * higher * share
        return added

    def wanted(self, rows: Indices, stretch: Indices) -> Array:
        """What the demands want in some scenarios and stretches, shape (R, P) [m3/s]."""
        return np.asarray(self.flow[_of(self.flow, rows), stretch])


Kept = TypeVar("Kept", Array, Flags, Indices)


def _of(array: Array, rows: Indices) -> Indices:
    """Rows to take of an array that has one row for all, or one for each scenario."""
    return rows if len(array) > 1 else np.zeros_like(rows)


def pick(array: Kept, rows: Indices) -> Kept:
    """Rows of an array that has one row for all, or one for each scenario."""
    return array[rows] if len(array) > 1 else array
