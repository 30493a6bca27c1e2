"""What fuel in the tanks means at the ends of the branches: static heads, shares, thresholds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.plumbed import Plumbed
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.pickups import bubble_point
from plumbing.simulation.tankage import Tankage


@dataclass(frozen=True, slots=True, eq=False)
class Ends:
    """Conditions at the branch ends, each of shape (S, B, 2).

    Attributes
    ----------
    head : Array
        Liquid above the place the port passes the wall, as pressure [Pa]; negative where a
        covered pickup lifts fuel to a port above the surface.
    share : Array
        Liquid share the end would deliver [-].
    threshold : Array
        Bubble point of an uncovered fine-pore pickup, and cracking pressures [Pa].
    """

    head: Array
    share: Array
    threshold: Array


def branch_ends(
    plumbed: Plumbed,
    tanks: Tankage,
    volume: Array,
    index: Indices,
    weight: Array,
    surface_tension: Array,
) -> Ends:
    """Ends of all branches for the fuel in the tanks.

    Parameters
    ----------
    plumbed : Plumbed
        The circuit, B branches.
    tanks : Tankage
        The tanks, T of them.
    volume : Array
        Fuel in each tank, shape (S, T) [m3].
    index : Indices
        Direction of gravity, a row of the tankage, shape (S,).
    weight : Array
        Liquid density times the size of effective gravity, shape (S,) [Pa/m].
    surface_tension : Array
        Shape (S,) [N/m].
    """
    shape = (len(volume), len(plumbed.circuit.branches), 2)
    head, share = np.zeros(shape), np.zeros(shape)
    threshold = np.broadcast_to(plumbed.cracking, shape).copy()
    for branch, ports in enumerate(plumbed.end_port):
        for end, port in enumerate(ports):
            tank = int(plumbed.end_tank[branch, end])
            if not port or tank < 0:
                continue
            vessel = tanks.vessels[tank]
            here = vessel.share(port, volume[:, tank], index)
            share[:, branch, end] = here
            head[:, branch, end] = weight * vessel.head(port, volume[:, tank], index)
            pore = plumbed.pore[branch, end]
            if pore > 0.0:
                holding = bubble_point(surface_tension, pore)
                threshold[:, branch, end] += np.where(here > 0.0, 0.0, holding)
    return Ends(head, share, threshold)
