"""Fuel that moves by itself between tanks that are left standing, and out of the vents."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.plumbed import NO_TANK
from plumbing.hydraulics.topology import topology
from plumbing.network.vent_ways import VentWay
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.march import march
from plumbing.simulation.moment import Stretches
from plumbing.simulation.parking_ground import Ground, Moments, Watch, feeding_at
from plumbing.simulation.parking_vents import vent_branches

_STILL = 1e-9  # a drop a minute [m3/s]
_TOLERANCE = 1e-2


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Resting(Feeding):
    """A network at rest whose vents are not full of fuel: fuel must rise over their loops.

    Attributes
    ----------
    barrier : Array
        Height of the highest point of a vent over its far end, for fuel that enters at either
        end, shape (K, B, 2) [m]; 0 elsewhere.
    """

    barrier: Array

    def conditions(self, rows: Indices, stretch: Indices, volume: Array) -> Conditions:
        """Conditions with the rise over the loops as a threshold."""
        given = Feeding.conditions(self, rows, stretch, volume)
        weight = given.liquid_density * np.linalg.norm(given.gravity, axis=1)
        rise = weight[:, None, None] * self.barrier[stretch] - given.head[:, :, ::-1]
        rise = np.maximum(rise, 0.0) * (self.barrier[stretch] > 0.0) * given.share
        return replace(given, threshold=given.threshold + rise)


def moved(
    grounded: Ground,
    ways: list[VentWay],
    volume: Array,
    blocked: Flags,
    duration: Array,
) -> tuple[Array, Array]:
    """What moves by itself in A attitudes.

    Parameters
    ----------
    grounded : Ground
        The layout in its attitudes, the first A of which are looked at.
    ways : list of VentWay
        Ways from tanks to outlets.
    volume : Array
        Fuel in each tank, shape (A, T) [m3].
    blocked : Flags
        Closed branch ends, shape (A, B, 2).
    duration : Array
        Shape (A,) [s].

    Returns
    -------
    tuple of Array
        Gain of each tank, shape (A, T), and fuel lost through openings, shape (A,) [m3].
    """
    if topology(grounded.plumbed.circuit).paths is not None:  # nothing can go round
        return np.zeros_like(volume), np.zeros(len(volume))
    resting = _resting(grounded, ways, blocked)
    attitude = np.arange(len(volume))
    watch, seen = Watch(resting, attitude, np.full(len(volume), _STILL)), Moments()
    march(
        grounded.tanks,
        Stretches(np.array([max(float(duration.max(initial=0.0)), 1.0)]), grounded.index[:1]),
        volume,
        watch.balance,
        stop=watch.settled,
        see=seen,
        tolerance=_TOLERANCE,
    )
    gained, lost = np.zeros_like(volume), np.zeros(len(volume))
    for row in range(len(volume)):
        time, held = seen.time(row), seen.volume(row)
        spilt = np.array([moment.spilt[row].sum() for moment in seen.seen])
        lost[row] = np.interp(duration[row], time, spilt)
        for tank in range(volume.shape[1]):
            gained[row, tank] = np.interp(duration[row], time, held[:, tank]) - volume[row, tank]
    return gained, lost


def _resting(grounded: Ground, ways: list[VentWay], blocked: Flags) -> Resting:
    plumbed, down = grounded.plumbed, grounded.down()
    plain = feeding_at(grounded, blocked=blocked)
    points = plumbed.circuit.points
    barrier = np.zeros((len(down), len(points), 2))
    for branch, these in vent_branches(plumbed, ways).items():
        crest = np.max([way.crest(down) for way in these], axis=0)
        for end in (0, 1):
            if plumbed.end_tank[branch, end] != NO_TANK:
                far = -down @ points[branch, 1 - end]
                barrier[:, branch, end] = np.maximum(crest - far, 0.0)
    return Resting(
        ends=plain.ends,
        gravity=plain.gravity,
        index=plain.index,
        flow=plain.flow,
        fluids=plain.fluids,
        stream=plain.stream,
        coefficient=plain.coefficient,
        blocked=plain.blocked,
        multiplier=plain.multiplier,
        dirt=plain.dirt,
        band=plain.band,
        barrier=barrier,
    )
