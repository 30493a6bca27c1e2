"""All tanks of a layout under the effective gravities of a run, as tables to look up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from types import MappingProxyType

import numpy as np

from plumbing.geometry.attitude import direction
from plumbing.geometry.basins import is_plain
from plumbing.geometry.cut import Cut, cut
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.pockets import Pockets, pockets
from plumbing.geometry.pools import Pools, pools
from plumbing.geometry.rising import rising
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.opening import USUAL_BORE, Opening, opening_of

_DIRECTION_DIGITS = 6
HOLLOW = 0.3e-3  # a hollow less deep than this holds a film and no fuel to count [m]; our choice
RULER = 3e-3  # a port may be drawn that far outside the tank [m]


@dataclass(frozen=True, slots=True, eq=False)
class Vessel:
    """One tank under D directions of gravity.

    Attributes
    ----------
    name : str
        Name of the tank.
    cut : Cut
        Its solid, cut.
    holds : float
        Share of the solid that fuel can fill (the rest is foam, baffles, fittings).
    capacity : float
        Fuel it holds brim-full [m3].
    openings : mapping of str to Opening
        Openings by port name.
    dry, covered : mapping of str to Array
        Fuel in the tank, once full, when that port is just dry, and just covered [m3], (D,).
    pools : Pools or None
        How its fuel lies, where it can lie in K > 1 pockets.
    basin : mapping of str to Indices
        Pocket that each port opens in, shape (D,); 0 where there is but one.
    low : mapping of str to (Array, Array)
        How the fuel lies when that port is just dry, and just covered [m3], shape (D, K).
    """

    name: str
    cut: Cut
    holds: float
    capacity: float
    openings: Mapping[str, Opening]
    dry: Mapping[str, Array]
    covered: Mapping[str, Array]
    pools: Pools | None
    basin: Mapping[str, Indices]
    low: Mapping[str, tuple[Array, Array]]

    @property
    def pockets(self) -> int:
        """Largest number of pockets K."""
        return self.pools.most if self.pools else 1

    def levels(self, volume: Array, index: Indices) -> Array:
        """Height of the surface over each pocket [m] for fuel as it lies [m3], (S, K) both."""
        if self.pools is None:
            return self.cut.level_for(volume / self.holds, index[:, None])
        return self.pools.levels(volume / self.holds, index)

    def centroid(self, volume: Array, index: Indices) -> Array:
        """Centre of the fuel [m], shape (S, 3), for fuel as it lies [m3], (S, K)."""
        if self.pools is None:
            return self.cut.centroid_at(self.levels(volume, index)[:, 0], index)
        return self.pools.centroid(volume / self.holds, index)


@dataclass(frozen=True, eq=False)
class Tankage:
    """All tanks under the distinct directions of gravity of a run.

    Fuel *as it lies* is a volume for each pocket: C of them, tank by tank. With one pocket in
    every tank that is the fuel in each tank.

    Attributes
    ----------
    vessels : tuple of Vessel
        In the order of the layout file, T of them.
    down : Array
        Distinct unit vectors along effective gravity, shape (D, 3).
    """

    vessels: tuple[Vessel, ...]
    down: Array

    @cached_property
    def capacity(self) -> Array:
        """Capacity of each tank [m3], shape (T,)."""
        return np.array([vessel.capacity for vessel in self.vessels])

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
        Effective gravity [m/s2], shape (K, 3); where it vanishes, straight down in the aircraft.

    Returns
    -------
    Array
        Unit vectors, shape (D, 3).
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
        no way out is to stay; none by default. In a tank whose fuel itself lies in several
        pockets the gas is taken to find its way.
    """
    bores = _tube_bores(layout)
    vessels = tuple(
        _vessel(tank, down, bores, moments, breathers.get(tank.name, ()))
        for tank in layout.tanks.values()
    )
    return Tankage(vessels, down)


def _tube_bores(layout: Layout) -> dict[str, float]:
    """Bore of the tube on each port, by `part.port` [m]."""
    return {
        end: layout.tube_of(line).inside_diameter
        for line in layout.lines.values()
        for end in (line.from_, line.to)
    }


def _vessel(
    tank: Tank,
    down: Array,
    bores: Mapping[str, float],
    moments: bool,
    breathers: tuple[str, ...],
) -> Vessel:
    mesh = tank_mesh(tank)
    sliced = cut(mesh, down, moments=moments)
    holds = 1.0 - min(tank.displaced, 0.95)
    openings = {
        name: opening_of(
            port, mesh, sliced, port.bore or bores.get(f"{tank.name}.{name}") or USUAL_BORE
        )
        for name, port in tank.ports.items()
    }
    parted = pockets_of(mesh, down)
    if breathers and parted is None and not is_plain(mesh):
        places = [openings[port].point for port in breathers]
        sliced = rising(mesh, down, places, HOLLOW, RULER) or sliced
    basin = {name: basin_of(parted, one.point) for name, one in openings.items()}
    low = {name: _low(parted, sliced, holds, one, basin[name]) for name, one in openings.items()}
    return Vessel(
        name=tank.name,
        cut=sliced,
        holds=holds,
        capacity=sliced.capacity * holds,
        openings=openings,
        dry={name: one.sum(axis=1) for name, (one, _) in low.items()},
        covered={name: one.sum(axis=1) for name, (_, one) in low.items()},
        pools=pools(parted, moments) if parted else None,
        basin=basin,
        low=low,
    )


def pockets_of(mesh: Mesh, down: Array) -> Pockets | None:
    """Pockets of a solid under D directions (D, 3); None where it has but one in each."""
    if is_plain(mesh):
        return None
    found = pockets(mesh, down, HOLLOW)
    return found if found.tree.most > 1 else None


def basin_of(parted: Pockets | None, points: Array) -> Indices:
    """Pocket that a port opens in, for its place in every direction (D, 3) [m], shape (D,)."""
    every = np.arange(len(points))
    if parted is None:
        return np.zeros_like(every)
    return parted.tree.basin_at(points, every, RULER)


def _low(
    parted: Pockets | None, solid: Cut, holds: float, opening: Opening, basin: Indices
) -> tuple[Array, Array]:
    """How the fuel lies with an opening just dry, and just covered, (D, K) [m3] each."""
    levels, every = (opening.dry, opening.covered), np.arange(len(basin))
    if parted is None:
        dry, covered = (solid.volume_at(level)[:, None] for level in levels)
    else:
        dry, covered = (parted.drawn_down(level, basin, every) for level in levels)
    return holds * dry, holds * covered
