"""What fuel in the tanks means at the ends of the branches: static heads, shares, thresholds."""

from __future__ import annotations

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.pickups import bubble_point
from plumbing.simulation.tankage import Tankage

_SNAP = 1e-3  # a share this near to 0 or 1 counts as that, so that a port runs dry in finite time
_WET = 0.25  # part of its bore up to which a fine-pore body must be wet to give freely; our choice


@frozen(eq=False)
class TankEnds:
    """The Q branch ends that lie in a tank, under D directions of gravity.

    Attributes
    ----------
    plumbed : Plumbed
        The circuit, B branches.
    tanks : Tankage
        The tanks, T of them.
    branch, end, tank : Indices
        Branch, 0 for its start or 1 for its end, and tank, shape (Q,).
    pocket : Indices
        Pocket that the port opens in, among the C of all tanks, shape (D, Q).
    dry, span : Array
        Fuel in it when the port is just dry, and how much more covers it, shape (D, Q) [m3].
    height : Array
        Height of the opening, shape (D, Q) [m].
    lift : Array
        Height of the place where the port passes the wall over its opening, shape (D, Q) [m].
    pore : Array
        Largest pore of a fine-pore pickup, shape (Q,) [m]; 0 elsewhere.
    """

    plumbed: Plumbed
    tanks: Tankage
    branch: Indices
    end: Indices
    tank: Indices
    pocket: Indices
    dry: Array
    span: Array
    height: Array
    lift: Array
    pore: Array

    def share(self, volume: Array, index: Indices) -> Array:
        """Liquid share each end would deliver, shape (S, Q), for fuel (S, T) or (S, C) [m3].

        A fine-pore body gives liquid alone as long as it is a little wet: its dry part holds the
        gas back.
        """
        wet = self._wet(self.tanks.lying(volume, index), index)
        share = np.where(self.pore > 0.0, np.minimum(2.0 * wet / _WET, 1.0), wet)
        share[share < _SNAP] = 0.0
        share[share > 1.0 - _SNAP] = 1.0
        return share

    def _wet(self, lying: Array, index: Indices) -> Array:
        """Part of the height of its bore that each end stands in liquid, (S, Q), any number."""
        wet: Array = (self._at_ends(lying, index) - self.dry[index]) / self.span[index]
        return wet

    def _at_ends(self, values: Array, index: Indices) -> Array:
        """Values of the pockets (S, C) at the ends that open in them, shape (S, Q)."""
        if not self.tanks.has_pockets:
            return values[:, self.tank]
        return np.take_along_axis(values, self.pocket[index], axis=1)

    def bag_pressure(self, volume: Array) -> Array:
        """Gauge pressure at the nodes of bags, 0 at others, for fuel (S, T) [m3], (S, N) [Pa]."""
        found = np.zeros((len(volume), len(self.plumbed.circuit.nodes)))
        if self.tanks.has_bags:
            at = np.flatnonzero(self.plumbed.tank_node >= 0)
            found[:, self.plumbed.tank_node[at]] = self.tanks.bag_pressure(volume)[:, at]
        return found

    def gained(self, carried: Array, index: Indices) -> Array:
        """What each pocket gains, (S, C), where branches carry liquid (S, B) [m3/s]."""
        if not self.tanks.has_pockets:
            node, gained = self.plumbed.tank_node, carried @ self.plumbed.gains
            return np.where(node >= 0, gained[:, node], 0.0)
        into = np.where(self.end == 1, 1.0, -1.0) * carried[:, self.branch]
        place = self.pocket[index] + (np.arange(len(index)) * len(self.tanks.tank))[:, None]
        size = len(index) * len(self.tanks.tank)
        sums = np.bincount(place.ravel(), weights=into.ravel(), minlength=size)
        return np.asarray(sums.reshape(len(index), -1))

    def depth(self, lying: Array, share: Array, index: Indices) -> Array:
        """Liquid above the place each port passes the wall, shape (S, Q) [m].

        Negative where a covered pickup lifts fuel to a port above the surface; a pickup that
        draws a mix lifts only the liquid in it.
        """
        level = self._at_ends(self.tanks.levels(lying, index), index)
        above = np.maximum(level - self.height[index], 0.0)
        depth: Array = above - share * self.lift[index]
        return depth

    def spread(self, values: Array) -> Array:
        """Values of the ends, (S, Q), among those of all branches, (S, B, 2); 0 elsewhere."""
        result = np.zeros((len(values), len(self.plumbed.circuit.branches), 2))
        result[:, self.branch, self.end] = values
        return result

    def threshold(self, lying: Array, index: Indices, surface_tension: Array) -> Array:
        """Pressures that hold each end shut, (S, B, 2) [Pa], for fuel as it lies (S, C) [m3].

        Check valves crack; a fine-pore body that is dry holds gas back up to its bubble point. As
        it runs dry its last wet pores ask for more and more, so that it comes to rest beside
        another that gives more easily, and passes a mix where there is no other.
        """
        cracking = self.plumbed.cracking[None]
        if not self.pore.any():
            return cracking
        pore = np.where(self.pore > 0.0, self.pore, 1.0)
        most = np.where(self.pore > 0.0, bubble_point(surface_tension[:, None], pore), 0.0)
        part = np.clip(2.0 - 2.0 * self._wet(lying, index) / _WET, 0.0, 1.0)
        return self.spread(part * most) + cracking


def tank_ends(plumbed: Plumbed, tanks: Tankage) -> TankEnds:
    """Tables of the branch ends that lie in tanks."""
    found = [
        (branch, end, int(plumbed.end_tank[branch, end]), port)
        for branch, ports in enumerate(plumbed.end_port)
        for end, port in enumerate(ports)
        if port
    ]
    branch, end, tank = (
        np.array([one[column] for one in found], dtype=np.intp) for column in range(3)
    )
    vessels = [(tanks.vessels[number], port) for _, _, number, port in found]
    down = tanks.down
    points = [vessel.openings[port].point for vessel, port in vessels]
    heights = [
        vessel.cut.bottom if vessel.bag else -np.einsum("dk,dk->d", vessel.cut.down, point)
        for (vessel, _), point in zip(vessels, points, strict=True)
    ]
    lifts = [
        -down @ vessel.openings[port].at - vessel.cut.bottom
        if vessel.bag
        else np.einsum("dk,dk->d", down, point - vessel.openings[port].at)
        for (vessel, port), point in zip(vessels, points, strict=True)
    ]
    basin = [v.basin[port] for v, port in vessels]
    every = np.arange(len(down))
    dry, covered = (
        _columns(
            [v.low[port][k][every, at] for (v, port), at in zip(vessels, basin, strict=True)], down
        )
        for k in (0, 1)
    )
    first = np.array([tanks.slices[number].start for _, _, number, _ in found], dtype=np.intp)
    least = np.array([1e-12 * v.capacity for v, _ in vessels])
    folds = np.array([v.bag is not None for v, _ in vessels], dtype=bool)
    dry[:, folds] = -1.0  # no air comes to the pickup of a bag: fuel does, from its lowest point
    return TankEnds(
        plumbed=plumbed,
        tanks=tanks,
        branch=branch,
        end=end,
        tank=tank,
        pocket=first + np.array(basin, dtype=np.intp).reshape(len(found), len(down)).T,
        dry=dry,
        span=np.maximum(covered - dry, least),
        height=_columns(heights, down),
        lift=_columns(lifts, down),
        pore=plumbed.pore[branch, end],
    )


def _columns(rows: list[Array], down: Array) -> Array:
    """One column an end, shape (D, Q)."""
    return np.stack(rows, axis=1) if rows else np.zeros((len(down), 0))
