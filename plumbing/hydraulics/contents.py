"""What fluid a branch carries either way, and the pressure it takes to make it move.

A branch carries what is found at its upstream end, so its fluid depends on the direction of flow.
Mixed liquid and gas move together as one fluid: density and viscosity are both the mean by volume
share (for viscosity this is one of several rules in use; it is exact at both ends).
"""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.topology import topology
from plumbing.physics.arrays import Array


@dataclass(frozen=True, slots=True, eq=False)
class Contents:
    """Fluid and standing pressures of every branch for either direction of flow.

    The law of a branch is  p_start - p_end = forward + loss(q)  for flow from start to end,
    p_start - p_end = backward - loss(|q|)  for flow from end to start, and, where `backward` lies
    below `forward`, no flow for any difference between the two.

    Attributes
    ----------
    density, viscosity : Array
        Fluid found at the start and at the end, shape (S, B, 2) [kg/m3], [Pa s].
    forward, backward : Array
        Standing part of the law, infinite where that direction is blocked, shape (S, B) [Pa].
    """

    density: Array
    viscosity: Array
    forward: Array
    backward: Array


def end_share(circuit: Circuit, conditions: Conditions, node_share: Array, scenarios: int) -> Array:
    """Liquid share that each branch end delivers, shape (S, B, 2) [-].

    `node_share` (S or 1, N) holds the mix at mixing nodes.
    """
    shape = topology(circuit)
    share = np.where(shape.mixing_end, node_share[:, shape.ends], conditions.share)
    return np.broadcast_to(share, (scenarios, *share.shape[1:]))


def carried(flow: Array, share: Array) -> Array:
    """Of `share` (S, B, 2) at both ends, that of the end which `flow` (S, B) enters, (S, B)."""
    return np.where(flow >= 0.0, share[:, :, 0], share[:, :, 1])


def contents(circuit: Circuit, conditions: Conditions, share: Array) -> Contents:
    """Fluid and standing pressures when each branch end delivers `share` (S, B, 2)."""
    density = blend(share, conditions.liquid_density, conditions.gas_density)
    viscosity = blend(share, conditions.liquid_viscosity, conditions.gas_viscosity)
    rise = circuit.points[:, 1] - circuit.points[:, 0]
    weight = density * (conditions.gravity @ rise.T)[:, :, None]  # helps flow from start to end
    head = conditions.head[:, :, 1] - conditions.head[:, :, 0]
    forward = head + conditions.threshold[:, :, 0] - weight[:, :, 0]
    backward = head - conditions.threshold[:, :, 1] - weight[:, :, 1]
    if conditions.blocked.any():
        forward = np.where(conditions.blocked[:, :, 0], np.inf, forward)
        backward = np.where(conditions.blocked[:, :, 1], -np.inf, backward)
    return Contents(density, viscosity, forward, backward)


def blend(share: Array, liquid: Array, gas: Array) -> Array:
    """Mean by volume share; `liquid` and `gas` have shape (S,), `share` (S, ...)."""
    across = (-1, *(1,) * (share.ndim - 1))
    gas = gas.reshape(across)
    return gas + share * (liquid.reshape(across) - gas)
