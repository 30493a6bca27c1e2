"""What each element of a solved circuit costs."""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.borechange import change_loss, coefficients
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.contents import blend
from plumbing.hydraulics.solution import Solution
from plumbing.physics.arrays import Array
from plumbing.physics.friction import laminar_excess


@dataclass(frozen=True, slots=True, eq=False)
class Breakdown:
    """Elements of a circuit in S scenarios, each array of shape (S, E).

    Attributes
    ----------
    drop : Array
        Pressure lost, positive along the flow [Pa].
    velocity : Array
        Mean velocity in the element's (narrowest) bore [m/s]; 0 for filters.
    reynolds : Array
        Reynolds number there [-]; 0 for filters.
    share : Array
        Drop over the sum of the drops of its branch [-].
    """

    drop: Array
    velocity: Array
    reynolds: Array
    share: Array


def breakdown(circuit: Circuit, conditions: Conditions, solution: Solution) -> Breakdown:
    """Drop, velocity and Reynolds number of every element.

    Parameters
    ----------
    circuit : Circuit
        The network.
    conditions : Conditions
        What it was solved under.
    solution : Solution
        Its solution, S scenarios.
    """
    owner = circuit.element_branch
    share = solution.share[:, owner]
    density = blend(share, conditions.liquid_density, conditions.gas_density)
    viscosity = blend(share, conditions.liquid_viscosity, conditions.gas_viscosity)
    size = np.abs(solution.flow)[:, owner]
    bore = _bores(circuit)
    wide = np.where(np.isfinite(bore), bore, 1.0)
    velocity = np.where(np.isfinite(bore), size / (np.pi / 4.0 * wide**2), 0.0)
    reynolds = density * velocity * wide / viscosity
    drop = np.zeros_like(size)
    _tubes(circuit, drop, size, density, viscosity)
    _fittings(circuit, conditions, drop, velocity, density, viscosity)
    _filters(circuit, conditions, drop, size, density, viscosity)
    changes = circuit.bore_changes.element
    if len(changes):
        forward = (solution.flow >= 0.0)[:, owner[changes]]
        drop[:, changes] = change_loss(
            coefficients(circuit.bore_changes),
            size[:, changes],
            forward,
            density[:, changes],
            viscosity[:, changes],
        )[0]
    drop *= np.broadcast_to(conditions.multiplier, solution.flow.shape)[:, owner]
    total = _per_branch(circuit, drop)
    share_of = np.where(total > 0.0, drop / np.where(total > 0.0, total, 1.0), 0.0)
    return Breakdown(drop, velocity, reynolds, share_of)


def _bores(circuit: Circuit) -> Array:
    """Narrowest bore of each element [m]; infinite for filters."""
    bore = np.full(len(circuit.elements), np.inf)
    bore[circuit.tubes.element] = circuit.tubes.bore
    bore[circuit.fittings.element] = circuit.fittings.bore
    changes = circuit.bore_changes
    bore[changes.element] = np.minimum(changes.before, changes.after)
    return bore


def _tubes(circuit: Circuit, drop: Array, size: Array, density: Array, viscosity: Array) -> None:
    tubes = circuit.tubes
    at = tubes.element
    if not len(at):
        return
    flow, rho, mu = size[:, at], density[:, at], viscosity[:, at]
    re = flow * rho * (4.0 / np.pi) / tubes.bore / mu
    ratio, _ = laminar_excess(re.copy(), tubes.roughness / tubes.bore)
    laminar = 128.0 / np.pi * tubes.length / tubes.bore**4 * mu * flow
    velocity = flow / (np.pi / 4.0 * tubes.bore**2)
    drop[:, at] = laminar * ratio + tubes.entry * 0.5 * rho * velocity**2


def _fittings(
    circuit: Circuit,
    conditions: Conditions,
    drop: Array,
    velocity: Array,
    density: Array,
    viscosity: Array,
) -> None:
    fittings = circuit.fittings
    at = fittings.element
    if not len(at):
        return
    band = conditions.band[:, None]
    k = fittings.k_inf_low + band * (fittings.k_inf_high - fittings.k_inf_low)
    speed = velocity[:, at]
    viscous = fittings.k1 * viscosity[:, at] / fittings.bore * speed
    drop[:, at] = 0.5 * (viscous + k * density[:, at] * speed**2)


def _filters(
    circuit: Circuit,
    conditions: Conditions,
    drop: Array,
    size: Array,
    density: Array,
    viscosity: Array,
) -> None:
    filters = circuit.filters
    at = filters.element
    if not len(at):
        return
    flow = size[:, at]
    clean = filters.linear * viscosity[:, at] + filters.quadratic * density[:, at] * flow
    drop[:, at] = conditions.dirt * clean * flow


def _per_branch(circuit: Circuit, drop: Array) -> Array:
    """Sum of the drops of each element's branch, shape (S, E)."""
    owner = circuit.element_branch
    nothing = np.zeros((len(drop), len(circuit.branches)))
    np.add.at(nothing, (slice(None), owner), drop)
    return nothing[:, owner]
