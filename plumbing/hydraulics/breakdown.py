"""What each element of a solved circuit costs, and what each branch gains by standing fluid."""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.branch_laws import blend
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.losses import Moving, branch_loss, element_losses
from plumbing.hydraulics.solution import Solution
from plumbing.physics.arrays import Array
from plumbing.physics.friction import reynolds


@dataclass(frozen=True, slots=True, eq=False)
class Breakdown:
    """Elements and branches of a circuit in S scenarios.

    Attributes
    ----------
    drop : Array
        Pressure lost in each element, along the flow, never negative, shape (S, E) [Pa].
    velocity : Array
        Mean velocity in the element's narrowest bore, 0 for filters, shape (S, E) [m/s].
    reynolds : Array
        Reynolds number there, 0 for filters, shape (S, E) [-].
    share : Array
        Drop over the sum of the drops of its branch, shape (S, E) [-].
    static : Array
        Pressure that standing fluid adds from start to end of each branch: head at the tank
        ports and weight of the fluid in the line, shape (S, B) [Pa].
    """

    drop: Array
    velocity: Array
    reynolds: Array
    share: Array
    static: Array


def breakdown(circuit: Circuit, conditions: Conditions, solution: Solution) -> Breakdown:
    """Drop, velocity and Reynolds number of every element, and standing pressure of every branch.

    Parameters
    ----------
    circuit : Circuit
        The network: E elements, B branches.
    conditions : Conditions
        What it was solved under.
    solution : Solution
        Its solution, S scenarios.

    Returns
    -------
    Breakdown
        The sum of a branch's drops, less `static`, is the difference of the node pressures at its
        ends, less the opening pressure of the end that the fluid enters.
    """
    owner = circuit.element_branch
    share = solution.share.T
    density = blend(share, conditions.liquid_density, conditions.gas_density).T
    viscosity = blend(share, conditions.liquid_viscosity, conditions.gas_viscosity).T
    size = np.abs(solution.flow)[:, owner]
    moving = Moving(size, (solution.flow >= 0.0)[:, owner], density[:, owner], viscosity[:, owner])
    drop, _ = branch_loss(element_losses(circuit), conditions, moving)
    drop *= np.broadcast_to(conditions.multiplier, solution.flow.shape)[:, owner]
    bore = _bores(circuit)
    wide = np.where(bore > 0.0, bore, 1.0)
    number = np.where(bore > 0.0, reynolds(size, wide, density[:, owner], viscosity[:, owner]), 0.0)
    total = np.zeros(solution.flow.shape)
    np.add.at(total.T, owner, drop.T)
    whole = total[:, owner]
    rise = circuit.points[:, 1] - circuit.points[:, 0]
    head = conditions.head[:, :, 0] - conditions.head[:, :, 1]
    return Breakdown(
        drop=drop,
        velocity=np.where(bore > 0.0, size / (np.pi / 4.0 * wide**2), 0.0),
        reynolds=number,
        share=np.where(whole > 0.0, drop / np.where(whole > 0.0, whole, 1.0), 0.0),
        static=head + density * (conditions.gravity @ rise.T),
    )


def _bores(circuit: Circuit) -> Array:
    """Narrowest bore of each element, 0 for filters, shape (E,) [m]."""
    bore = np.zeros(len(circuit.elements))
    bore[circuit.tubes.element] = circuit.tubes.bore
    bore[circuit.fittings.element] = circuit.fittings.bore
    changes = circuit.bore_changes
    bore[changes.element] = np.minimum(changes.before, changes.after)
    return bore
