"""All tanks of a layout under the effective gravities of a run, as tables to look up."""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping
from functools import cached_property
from itertools import pairwise
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.geometry.attitude import direction
from plumbing.geometry.pools import Pools
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.bags import FOLDS, TAUT, bag_pressure
from plumbing.simulation.vessel import Bag, Vessel, vessel_of

_DIRECTION_DIGITS = 6


@frozen(eq=False)
class Tankage:
    """All tanks under the distinct directions of gravity of a run.

    Fuel *as it lies* is a volume for each pocket: C of them, tank by tank. With one pocket in
    every tank that is the fuel in each tank.

    Attributes
    ----------
    vessels : tuple of Vessel
        In the order of the layout file, T of them.
    down : Array
        Unit vectors along effective gravity, shape (D, 3).
    """

    vessels: tuple[Vessel, ...]
    down: Array

    @cached_property
    def capacity(self) -> Array:
        """Capacity of each tank [m3], shape (T,)."""
        return np.array([vessel.capacity for vessel in self.vessels])

    @cached_property
    def has_bags(self) -> bool:
        """Whether any tank folds as it empties."""
        return any(one.bag for one in self.vessels)

    @cached_property
    def grain(self) -> Array:
        """What an error in the fuel of each pocket is compared with [m3], shape (C,).

        The capacity of its tank; in a bag, the hundredth over which its pressure rises.
        """
        fine = np.array([TAUT if one.bag else 1.0 for one in self.vessels])
        return np.asarray((fine * self.capacity)[self.tank])

    def filled(self, share: ArrayLike) -> Array:
        """Fuel in tanks filled to shares of their capacities (..., T) [-], (..., T) [m3].

        A bag is full before its film is taut.
        """
        most = np.array([1.0 - TAUT if one.bag else 1.0 for one in self.vessels])
        return np.asarray(np.minimum(share, most) * self.capacity)

    @cached_property
    def slack(self) -> Array:
        """Least fuel with which each bag hangs limp, 0 in other pockets [m3], shape (C,)."""
        limp = np.array([one.bag.stays + FOLDS if one.bag else 0.0 for one in self.vessels])
        return np.asarray((self.capacity * limp)[self.tank])

    def bag_pressure(self, volume: Array) -> Array:
        """Gauge pressure in each bag, 0 for other tanks, for fuel (S, T) [m3], (S, T) [Pa]."""
        found = np.zeros_like(volume)
        for n, vessel in enumerate(self.vessels):
            if vessel.bag:
                held, bag = volume[:, n] / vessel.capacity, vessel.bag
                found[:, n] = bag_pressure(held, bag.stays, bag.collapse, bag.proof)
        return found

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the tanks."""
        return tuple(vessel.name for vessel in self.vessels)

    @cached_property
    def tank(self) -> Indices:
        """Tank of each pocket, shape (C,)."""
        return np.repeat(np.arange(len(self.vessels)), [one.pockets for one in self.vessels])

    @cached_property
    def slices(self) -> tuple[slice, ...]:
        """Pockets of each tank among all, T of them."""
        ends = np.cumsum([0, *(one.pockets for one in self.vessels)]).tolist()
        return tuple(slice(first, last) for first, last in pairwise(ends))

    @cached_property
    def has_pockets(self) -> bool:
        """Whether fuel can lie in several pockets of any tank."""
        return len(self.tank) > len(self.vessels)

    def total(self, lying: Array) -> Array:
        """Fuel in each tank (S, T) of fuel as it lies (S, C) [m3]."""
        if not self.has_pockets:
            return lying
        return np.stack([lying[:, one].sum(axis=1) for one in self.slices], axis=1)

    def lying(self, volume: Array, index: Indices) -> Array:
        """How fuel (S, T) [m3] lies that was filled in with the tanks upright, (S, C) [m3].

        The same level stands in all pockets of a tank as it is filled; then the aircraft is
        turned slowly. `index` has the directions, shape (S,). Fuel as it lies stays so.
        """
        if volume.shape[1] == len(self.tank):
            return volume
        each = [self.lying_in(one, volume[:, n], index) for n, one in enumerate(self.vessels)]
        return np.concatenate(each, axis=1)

    def lying_in(self, vessel: Vessel, volume: Array, index: Indices) -> Array:
        """The same of one tank, for fuel (S,) [m3], shape (S, K) [m3]."""
        if vessel.pools is None:
            return volume[:, None]
        upright = np.full(len(volume), int(self.down[:, 2].argmin()))
        poured = vessel.pools.poured(volume / vessel.holds, upright)
        return vessel.holds * vessel.pools.turned(poured, upright, index)

    def settled(self, lying: Array, index: Indices) -> Array:
        """Fuel (S, C) [m3] after all that stands over a ridge has run over it."""
        if not self.has_pockets:
            return lying
        return self._each(lying, lambda pools, held: pools.settled(held, index))

    def shared(self, rate: Array, lying: Array, index: Indices) -> Array:
        """How fast fuel as it lies (S, C) [m3] changes where pockets gain (S, C) [m3/s]."""
        if not self.has_pockets:
            return rate
        result = rate.copy()
        for vessel, one in zip(self.vessels, self.slices, strict=True):
            if vessel.pools is not None:
                volume = lying[:, one] / vessel.holds
                result[:, one] = vessel.pools.shared(rate[:, one], volume, index)
        return result

    def seeping(self, lying: Array, index: Indices, gravity: Array) -> Array:
        """What pockets gain through small holes in baffles, (S, C) [m3/s].

        For fuel as it lies (S, C) [m3] under effective gravity (S,) [m/s2].
        """
        result = np.zeros_like(lying)
        for vessel, one in zip(self.vessels, self.slices, strict=True):
            if vessel.holes is not None:
                levels = vessel.levels(lying[:, one], index)
                result[:, one] = vessel.holes.rates(levels, index, gravity)
        return result

    @cached_property
    def seeps(self) -> bool:
        """Whether fuel passes small holes in the baffles of any tank."""
        return any(one.holes is not None for one in self.vessels)

    def turned(self, lying: Array, before: Indices, after: Indices) -> Array:
        """Fuel (S, C) [m3] after slow turns from directions to directions, shape (S,) each."""
        if not self.has_pockets:
            return lying
        return self._each(lying, lambda pools, held: pools.turned(held, before, after))

    def _each(self, lying: Array, how: Callable[[Pools, Array], Array]) -> Array:
        """Apply what pockets do to the fuel in every tank that has some."""
        result = lying.copy()
        for vessel, one in zip(self.vessels, self.slices, strict=True):
            if vessel.pools is not None:
                result[:, one] = vessel.holds * how(vessel.pools, lying[:, one] / vessel.holds)
        return result

    def levels(self, lying: Array, index: Indices) -> Array:
        """Height of the surface over each pocket for fuel as it lies [m3], (S, C) both [m]."""
        each = zip(self.vessels, self.slices, strict=True)
        return np.concatenate([v.levels(lying[:, one], index) for v, one in each], axis=1)

    def surfaces(self, volume: Array, index: Indices) -> Array:
        """Height of the highest surface in each tank, (S, T) [m], for fuel (S, T) or (S, C)."""
        lying = self.lying(volume, index)
        levels = self.levels(lying, index)
        levels = np.where(lying > 0.0, levels, levels.min(axis=1, keepdims=True))
        return np.stack([levels[:, one].max(axis=1) for one in self.slices], axis=1)

    def centroids(self, lying: Array, index: Indices) -> Array:
        """Centre of the fuel in each tank as it lies (S, C) [m3], shape (S, T, 3) [m]."""
        each = zip(self.vessels, self.slices, strict=True)
        return np.stack([v.centroid(lying[:, one], index) for v, one in each], axis=1)


def distinct_directions(gravity: Array) -> tuple[Array, Indices]:
    """Distinct directions among many effective gravities.

    Parameters
    ----------
    gravity : Array
        Effective gravity [m/s2], shape (K, 3), or several of one moment, shape (K, M, 3); where it
        vanishes, straight down in the aircraft.

    Returns
    -------
    Array
        Unit vectors, shape (D, 3) or (D, M, 3).
    Indices
        For each of the K, its row among the D.
    """
    units = direction(gravity)
    _, first, index = np.unique(
        np.round(units, _DIRECTION_DIGITS), axis=0, return_index=True, return_inverse=True
    )
    return units[first], np.asarray(index, dtype=np.intp).reshape(-1)


def tankage(
    layout: Layout,
    down: Array,
    moments: bool = True,
    breathers: Mapping[str, tuple[str, ...]] = MappingProxyType({}),
    flow: float | None = None,
    surface: Array | None = None,
    bags: Container[str] = (),
) -> Tankage:
    """Tables of every tank for D directions of gravity.

    Parameters
    ----------
    layout : Layout
        The layout.
    down : Array
        Unit vectors along effective gravity, shape (D, 3).
    moments : bool
        Whether centres of the fuel will be asked for.
    breathers : mapping of str to tuple of str
        Ports by which gas leaves each tank while fuel fills it from below, where gas that finds
        no way out is to stay; none by default.
    flow : float, optional
        Largest flow of the run [m3/s]; a hole in a baffle that passes it without a difference in
        level passes at once. By default the full flow of all engines.
    surface : Array, optional
        Direction across which the fuel lies in each tank, shape (D, T, 3); `down` by default.
    bags : container of str
        Tanks that fold as they empty.
    """
    largest = layout.full_flow if flow is None else flow
    bores = _tube_bores(layout)
    vessels = tuple(
        vessel_of(
            tank,
            down,
            bores,
            moments,
            breathers.get(tank.name, ()),
            largest,
            down if surface is None or tank.name in bags else surface[:, number],
            Bag.of(tank) if tank.name in bags else None,
        )
        for number, tank in enumerate(layout.tanks.values())
    )
    return Tankage(vessels, down)


def _tube_bores(layout: Layout) -> dict[str, float]:
    """Bore of the tube on each port, by `part.port` [m]."""
    return {
        end: layout.tube_of(line).inside_diameter
        for line in layout.lines.values()
        for end in (line.from_, line.to)
    }
