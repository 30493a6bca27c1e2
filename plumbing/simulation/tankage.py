"""All tanks of a layout under the effective gravities of a run, as tables to look up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from plumbing.geometry.attitude import direction
from plumbing.geometry.cut import Cut, cut
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.opening import USUAL_BORE, Opening, opening_of

_DIRECTION_DIGITS = 6


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
        Fuel in the tank when that port is just dry, and just covered [m3], shape (D,).
    """

    name: str
    cut: Cut
    holds: float
    capacity: float
    openings: Mapping[str, Opening]
    dry: Mapping[str, Array]
    covered: Mapping[str, Array]

    def level(self, volume: Array, index: Indices) -> Array:
        """Height of the surface [m] for a fuel volume [m3], both of shape (S,)."""
        return self.cut.level_for(volume / self.holds, index)

    def centroid(self, volume: Array, index: Indices) -> Array:
        """Centre of the fuel [m], shape (S, 3), for volumes [m3] of shape (S,)."""
        return self.cut.centroid_at(self.level(volume, index), index)


@dataclass(frozen=True, slots=True, eq=False)
class Tankage:
    """All tanks under the distinct directions of gravity of a run.

    Attributes
    ----------
    vessels : tuple of Vessel
        In the order of the layout file.
    down : Array
        Distinct unit vectors along effective gravity, shape (D, 3).
    """

    vessels: tuple[Vessel, ...]
    down: Array

    @property
    def capacity(self) -> Array:
        """Capacity of each tank [m3], shape (T,)."""
        return np.array([vessel.capacity for vessel in self.vessels])

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the tanks."""
        return tuple(vessel.name for vessel in self.vessels)


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


def tankage(layout: Layout, down: Array, moments: bool = True) -> Tankage:
    """Tables of every tank for D directions of gravity.

    Parameters
    ----------
    layout : Layout
        The layout.
    down : Array
        Unit vectors along effective gravity, shape (D, 3).
    moments : bool
        Whether centres of the fuel will be asked for.
    """
    bores = _tube_bores(layout)
    vessels = tuple(_vessel(tank, down, bores, moments) for tank in layout.tanks.values())
    return Tankage(vessels, down)


def _tube_bores(layout: Layout) -> dict[str, float]:
    """Bore of the tube on each port, by `part.port` [m]."""
    return {
        end: layout.tube_of(line).inside_diameter
        for line in layout.lines.values()
        for end in (line.from_, line.to)
    }


def _vessel(tank: Tank, down: Array, bores: Mapping[str, float], moments: bool) -> Vessel:
    mesh = tank_mesh(tank)
    sliced = cut(mesh, down, moments=moments)
    holds = 1.0 - min(tank.displaced, 0.95)
    openings = {
        name: opening_of(
            port, mesh, sliced, port.bore or bores.get(f"{tank.name}.{name}") or USUAL_BORE
        )
        for name, port in tank.ports.items()
    }
    return Vessel(
        name=tank.name,
        cut=sliced,
        holds=holds,
        capacity=sliced.capacity * holds,
        openings=openings,
        dry={name: sliced.volume_at(one.dry) * holds for name, one in openings.items()},
        covered={name: sliced.volume_at(one.covered) * holds for name, one in openings.items()},
    )
