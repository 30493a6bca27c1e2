"""Loss of whole branches and its slope, in batch.

What does not change from call to call is added up once: by the laws of laminar flow a whole branch
has one linear and one quadratic coefficient for either direction. What friction and changes of
bore add beyond these laws is worked out where it counts.
"""

from functools import lru_cache

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.bore_steps import Changes, add_changes, group_changes
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.grouping import Groups, alike
from plumbing.hydraulics.tubegroups import TubeGroups, add_friction, group_tubes
from plumbing.physics.arrays import Array, Flags, Indices, floats

USUAL_BORE = 4e-3  # [m] for branches that have none, to begin from


@frozen(eq=False)
class Losses:
    """Coefficients of B branches, for flow along the branch and against it.

    Attributes
    ----------
    linear, linear_band : Array
        Loss over mu q by laminar laws at the low bound, and how much more at the high bound,
        shape (2, B) [1/m3].
    quadratic, quadratic_band : Array
        The same over rho q^2, shape (2, B) [1/m4].
    alike : bool
        Whether both directions lose alike.
    tubes : TubeGroups
        Like tubes put together, for what friction adds beyond.
    filters : Groups
        Branches of the filters; `filter_linear` [1/m3] and `filter_quadratic` [1/m4] are theirs.
    changes : Changes
        Like changes of bore, for what they add beyond.
    area : Array
        Narrowest cross-section of each branch, shape (B,) [m2].
    """

    linear: Array
    linear_band: Array
    quadratic: Array
    quadratic_band: Array
    alike: bool
    tubes: TubeGroups
    filters: Groups
    filter_linear: Array
    filter_quadratic: Array
    changes: Changes
    area: Array


@frozen(eq=False)
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
    fittings, filters = circuit.fittings, circuit.filters
    area = np.pi / 4.0 * fittings.bore**2
    tubes = group_tubes(circuit.tubes, owner[circuit.tubes.element])
    changes = group_changes(circuit.bore_changes, owner[circuit.bore_changes.element])

    def total(values: Array, at: Indices) -> Array:
        return np.asarray(np.bincount(at, values, minlength=branches), float)

    joined, along = owner[fittings.element], tubes.groups.branch
    linear = total(fittings.k1 / (2.0 * fittings.bore * area), joined)
    linear = linear + total(tubes.laminar, along)
    low, high = (
        total(k / (2.0 * area**2), joined) + total(tubes.entry, along)
        for k in (fittings.k_inf_low, fittings.k_inf_high)
    )
    steps = [[total(one, changes.groups.branch) for one in each] for each in changes.by_direction]
    least, creeping, most = (np.stack(each) for each in zip(*steps, strict=True))
    each = np.arange(len(filters.element), dtype=float)
    alone, _ = alike(owner[filters.element], each)
    return Losses(
        linear=np.stack([linear, linear]),
        linear_band=creeping,
        quadratic=low + least,
        quadratic_band=high - low + most - least,
        alike=not len(changes.groups),
        tubes=tubes,
        filters=alone,
        filter_linear=filters.linear,
        filter_quadratic=filters.quadratic,
        changes=changes,
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
    linear = _coefficient(losses, losses.linear, losses.linear_band, band, forward) * viscosity
    quadratic = _coefficient(losses, losses.quadratic, losses.quadratic_band, band, forward)
    quadratic = quadratic * density
    if len(losses.filters):
        at = losses.filters.branch
        losses.filters.add(losses.filter_linear[:, None] * viscosity[at] * dirt, linear)
        losses.filters.add(losses.filter_quadratic[:, None] * density[at] * dirt, quadratic)
    quadratic *= size
    slope = linear + quadratic
    loss = size * slope
    slope += quadratic
    add_friction(losses.tubes, size, density, viscosity, loss, slope)
    add_changes(losses.changes, band, size, forward, density, viscosity, loss, slope)
    return loss, slope


def _coefficient(losses: Losses, low: Array, more: Array, band: Array, forward: Flags) -> Array:
    """Coefficient of each branch as it flows and where in the band, (B, S) or (B, 1)."""
    there = low[0][:, None] + band * more[0][:, None]
    if losses.alike:
        return floats(there)
    return floats(np.where(forward, there, low[1][:, None] + band * more[1][:, None]))


def _by_branch(*arrays: Array) -> list[Array]:
    """Arrays turned over: with branches first, long runs of scenarios lie side by side."""
    return [np.ascontiguousarray(array.T) for array in arrays]
