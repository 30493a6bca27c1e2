"""One tank under the effective gravities of a run, as tables to look up."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.cut import Cut, cut
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.parted import Passages
from plumbing.geometry.pockets import Pockets
from plumbing.geometry.pools import Pools, pools
from plumbing.geometry.rising import kept_gas, rising
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.bags import FOLDS, USUAL_COLLAPSE, USUAL_PROOF, USUAL_STAYS
from plumbing.physics.holes import through_hole
from plumbing.simulation.opening import USUAL_BORE, Opening, opening_of
from plumbing.simulation.room import room_of

RULER = 3e-3  # a port may be drawn that far outside the tank [m]


@frozen(eq=False)
class Holes:
    """H holes between pockets that fuel passes slowly, under D directions.

    A query's direction counts round and round: D and 0 are the same.

    Attributes
    ----------
    basin : Indices
        Pockets on both sides, shape (2, D, H).
    floor : Array
        Height of the floor of these pockets, shape (2, D, H) [m].
    middle, half : Array
        Height of the centres, and half the extent in height, shape (D, H) [m].
    area : Array
        Shape (H,) [m2].
    """

    basin: Indices
    floor: Array
    middle: Array
    half: Array
    area: Array

    def rates(self, levels: Array, index: Indices, gravity: Array) -> Array:
        """What each pocket gains (S, K) [m3/s] at levels (S, K) [m] under gravity (S,) [m/s2]."""
        at, rows = index % len(self.middle), np.arange(len(index))[:, None]
        one, other = (side[at] for side in self.basin)
        flow = through_hole(
            levels[rows, one],
            levels[rows, other],
            self.floor[:, at],
            self.middle[at],
            self.half[at],
            self.area,
            gravity[:, None],
        )
        gained = np.zeros_like(levels)
        np.subtract.at(gained, (rows, one), flow)
        np.add.at(gained, (rows, other), flow)
        return gained


@frozen
class Bag:
    """A bag without air, as `bag_pressure` has it: the share that stays, and two pressures [Pa]."""

    stays: float
    collapse: float
    proof: float

    @classmethod
    def of(cls, tank: Tank) -> Bag:
        """As its wall says, else the usual one."""
        wall = tank.wall
        stated = (wall.stays, wall.collapse_suction, wall.proof_pressure) if wall else (None,) * 3
        usual = (USUAL_STAYS, USUAL_COLLAPSE, USUAL_PROOF)
        return cls(*(two if one is None else one for one, two in zip(stated, usual, strict=True)))


@frozen(eq=False)
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
    holes : Holes or None
        Holes in its baffles that fuel passes slowly.
    is_hollow : bool
        Whether fuel or gas can lie in pockets of it at all, in some attitude.
    mesh : Mesh
        The room in it, in pieces where baffles part it.
    bag : Bag or None
        How it folds as it empties.
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
    holes: Holes | None
    is_hollow: bool
    mesh: Mesh
    bag: Bag | None = None

    def begins(self, direction: int) -> Indices:
        """Pocket in which each face of its room begins in a direction, shape (F,)."""
        if self.pools is None:
            return np.zeros(len(self.mesh.faces), dtype=np.intp)
        return np.asarray(self.pools.pockets.face[direction])

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


def vessel_of(
    tank: Tank,
    down: Array,
    bores: Mapping[str, float],
    moments: bool,
    breathers: tuple[str, ...],
    flow: float,
    surface: Array,
    bag: Bag | None = None,
) -> Vessel:
    """One tank under D directions of gravity (D, 3).

    Parameters
    ----------
    tank : Tank
        The tank.
    down : Array
        Unit vectors along effective gravity, shape (D, 3).
    bores : mapping of str to float
        Bore of the tube on each port, by `part.port` [m].
    moments : bool
        Whether centres of the fuel will be asked for.
    breathers : tuple of str
        Ports by which gas leaves it while it is filled, where gas that finds no way out stays.
    flow : float
        As for `room_of` [m3/s].
    surface : Array
        Unit vectors across which the fuel lies, shape (D, 3): `down`, unless it sloshes.
    bag : Bag, optional
        How it folds as it empties. Its fuel lies where it lies in the room around the bag, which
        hangs over it; wherever a pickup is, fuel comes to it until only what stays is left.
    """
    mesh, room = tank_mesh(tank), room_of(tank, flow)
    sliced = cut(mesh, surface, moments=moments)
    holds = 1.0 - min(tank.displaced, 0.95)
    openings = {
        name: opening_of(
            port, mesh, sliced, port.bore or bores.get(f"{tank.name}.{name}") or USUAL_BORE, down
        )
        for name, port in tank.ports.items()
    }
    parted = None if bag else room.pockets(surface)  # a bag pushes its fuel out of every pocket
    hollow = bool(breathers) and bag is None
    gas, kept = room_of(tank).pockets(-surface) if hollow else None, 0.0
    if gas is not None:
        places = [openings[port].point for port in breathers]
        if parted is None:
            sliced = rising(gas, places, RULER) or sliced
        else:
            trapped = kept_gas(parted, gas, places, RULER)
            parted, kept = parted.keeping(trapped), float(trapped[-1].max())
    basin = {name: basin_of(parted, one.point) for name, one in openings.items()}
    low = {name: _low(parted, sliced, holds, one, basin[name]) for name, one in openings.items()}
    if bag:
        whole = np.full((len(down), 1), sliced.capacity * holds)
        low = dict.fromkeys(low, (bag.stays * whole, (bag.stays + FOLDS) * whole))
    return Vessel(
        name=tank.name,
        cut=sliced,
        holds=holds,
        capacity=(sliced.capacity - kept) * holds,
        openings=openings,
        dry={name: one.sum(axis=1) for name, (one, _) in low.items()},
        covered={name: one.sum(axis=1) for name, (_, one) in low.items()},
        pools=pools(parted, moments) if parted else None,
        basin=basin,
        low=low,
        holes=_holes(parted, room.narrow) if parted and room.narrow else None,
        is_hollow=room.is_hollow,
        mesh=room.mesh,
        bag=bag,
    )


def _holes(parted: Pockets, narrow: Passages) -> Holes | None:
    """Holes that fuel passes slowly, under the directions of some pockets."""
    if not len(narrow.radius):
        return None
    down = parted.tree.down
    every = np.repeat(np.arange(len(down)), len(narrow.radius))
    basin = [
        parted.tree.basin_at(np.tile(side, (len(down), 1)), every).reshape(len(down), -1)
        for side in narrow.sides
    ]
    area = np.pi * narrow.radius**2
    floor = [np.take_along_axis(parted.tree.low, side, axis=1) for side in basin]
    return Holes(np.array(basin), np.array(floor), narrow.middle(down), narrow.half(down), area)


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
