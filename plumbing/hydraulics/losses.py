"""Loss of whole branches and its slope, in batch.

What does not change from call to call is added up once: all fittings of a branch become one
linear and one quadratic coefficient, and so does the low bound of its changes of bore for either
direction of flow; its like tubes and like changes of bore become one.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.elements import BoreChanges, Fittings
from plumbing.hydraulics.grouping import Groups, alike
from plumbing.hydraulics.tubegroups import TubeGroups, add_tubes, group_tubes
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.bores import change_loss, least_coefficient

USUAL_BORE = 4e-3  # [m] for branches that have none, to begin from


@dataclass(frozen=True, slots=True, eq=False)
class Losses:
    """Coefficients of B branches.

    Attributes
    ----------
    linear : Array
        Loss of fittings over mu q, shape (B,) [1/m3].
    quadratic_low, quadratic_high : Array
        Loss of fittings over rho q^2, low and high bound, shape (B,) [1/m4].
    least_forward, least_backward : Array
        Low bound of the loss of changes of bore over rho q^2, as the flow goes, shape (B,) [1/m4].
    tubes : TubeGroups
        Like tubes put together.
    filters : Groups
        Branches of the filters; `filter_linear` [1/m3] and `filter_quadratic` [1/m4] are theirs.
    changes : Groups
        Like changes of bore; `before` and `after` [m] are theirs, `count` how many they are.
    area : Array
        Narrowest cross-section of each branch, shape (B,) [m2].
    """

    linear: Array
    quadratic_low: Array
    quadratic_high: Array
    least_forward: Array
    least_backward: Array
    tubes: TubeGroups
    filters: Groups
    filter_linear: Array
    filter_quadratic: Array
    changes: Groups
    before: Array
    after: Array
    count: Array
    area: Array


@dataclass(frozen=True, slots=True, eq=False)
class Moving:
    """The fluid as it moves through the branches.

    Attributes
    ----------
    size : Array
        Size of the flow, shape (S, B) [m3/s].
    forward : Flags
        Whether it goes from start to end, shape (S, B).
    density, viscosity : Array
        What it carries, shape (S, B) [kg/m3], [Pa s].
    """

    size: Array
    forward: Flags
    density: Array
    viscosity: Array


@lru_cache(maxsize=64)
def compile_losses(circuit: Circuit) -> Losses:
    """Coefficients of the branches of a circuit."""
    return _compile(circuit, circuit.element_branch, len(circuit.branches))


@lru_cache(maxsize=64)
def element_losses(circuit: Circuit) -> Losses:
    """The same with each element taken as a branch of its own."""
    count = len(circuit.elements)
    return _compile(circuit, np.arange(count), count)


def _compile(circuit: Circuit, owner: Indices, branches: int) -> Losses:
    """Add up what is constant; `owner` (E,) is the branch of each element."""
    fittings, filters, changes = circuit.fittings, circuit.filters, circuit.bore_changes
    area = np.pi / 4.0 * fittings.bore**2
    half = 0.5 / area**2
    steps = np.pi / 4.0 * np.minimum(changes.before, changes.after) ** 2

    def total(values: Array, of: Fittings | BoreChanges = fittings) -> Array:
        return np.asarray(np.bincount(owner[of.element], values, minlength=branches), float)

    def least(before: Array, after: Array) -> Array:
        return total(least_coefficient(before, after) * 0.5 / steps**2, changes)

    each = np.arange(len(filters.element), dtype=float)
    alone, _ = alike(owner[filters.element], each)
    alike_changes, (before, after) = alike(owner[changes.element], changes.before, changes.after)
    return Losses(
        linear=total(fittings.k1 / (2.0 * fittings.bore * area)),
        quadratic_low=total(fittings.k_inf_low * half),
        quadratic_high=total(fittings.k_inf_high * half),
        least_forward=least(changes.before, changes.after),
        least_backward=least(changes.after, changes.before),
        tubes=group_tubes(circuit.tubes, owner[circuit.tubes.element]),
        filters=alone,
        filter_linear=filters.linear,
        filter_quadratic=filters.quadratic,
        changes=alike_changes,
        before=before,
        after=after,
        count=alike_changes.total(np.ones(len(changes.element))),
        area=_narrowest(circuit, owner, branches),
    )


def _narrowest(circuit: Circuit, owner: Indices, branches: int) -> Array:
    """Smallest cross-section of each branch, shape (B,) [m2]."""
    changes, bore = circuit.bore_changes, np.full(branches, np.inf)
    for kind, size in (
        (circuit.tubes, circuit.tubes.bore),
        (circuit.fittings, circuit.fittings.bore),
        (changes, np.minimum(changes.before, changes.after)),
    ):
        np.minimum.at(bore, owner[kind.element], size)
    return np.asarray(np.pi / 4.0 * np.where(np.isfinite(bore), bore, USUAL_BORE) ** 2, float)


def branch_loss(losses: Losses, conditions: Conditions, moving: Moving) -> tuple[Array, Array]:
    """Loss of each branch and its derivative by flow, without the conditions' multiplier.

    Parameters
    ----------
    losses : Losses
        From `compile_losses` or `element_losses`.
    conditions : Conditions
        Read for the band of the loss coefficients and the dirt in the filters.
    moving : Moving
        What flows.

    Returns
    -------
    tuple of Array
        Loss [Pa] and slope [Pa s/m3], neither ever negative, shape (S, B).
    """
    size, density, viscosity = _by_branch(moving.size, moving.density, moving.viscosity)
    found = loss_by_branch(
        losses, conditions.band, conditions.dirt.T, size, moving.forward.T, density, viscosity
    )
    loss, slope = _by_branch(*found)
    return loss, slope


def loss_by_branch(
    losses: Losses,
    band: Array,
    dirt: Array,
    size: Array,
    forward: Flags,
    density: Array,
    viscosity: Array,
) -> tuple[Array, Array]:
    """The same with branches first: arrays (B, S) [SI], `band` (S,) and `dirt` (F, S) [-]."""
    low, high = losses.quadratic_low[:, None], losses.quadratic_high[:, None]
    linear = losses.linear[:, None] * viscosity
    quadratic = low + band * (high - low)
    if len(losses.changes):
        there, back = losses.least_forward[:, None], losses.least_backward[:, None]
        quadratic = quadratic + (1.0 - band) * np.where(forward, there, back)
    quadratic = quadratic * density
    if len(losses.filters):
        at = losses.filters.branch
        losses.filters.add(losses.filter_linear[:, None] * viscosity[at] * dirt, linear)
        losses.filters.add(losses.filter_quadratic[:, None] * density[at] * dirt, quadratic)
    quadratic *= size
    loss = size * (linear + quadratic)
    slope = linear + 2.0 * quadratic
    add_tubes(losses.tubes, size, density, viscosity, loss, slope)
    if len(losses.changes):
        at, count = losses.changes.branch, losses.count[:, None] * band
        signed = np.where(forward[at], size[at], -size[at])
        drop, steep = change_loss(
            signed, losses.before[:, None], losses.after[:, None], density[at], viscosity[at]
        )
        losses.changes.add(np.abs(drop) * count, loss)
        losses.changes.add(steep * count, slope)
    return loss, slope


def _by_branch(*arrays: Array) -> list[Array]:
    """Arrays turned over: with branches first, long runs of scenarios lie side by side."""
    return [np.ascontiguousarray(array.T) for array in arrays]
