"""Like changes of bore put together, and what they lose beyond their laminar laws."""

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import BoreChanges
from plumbing.hydraulics.grouping import Groups, alike
from plumbing.physics.arrays import Array, Flags, Indices, floats
from plumbing.physics.bores import change_loss, laminar_change, least_coefficient


@frozen(eq=False)
class Changes:
    """Groups of like changes of bore, each of one branch.

    Attributes
    ----------
    groups : Groups
        Branch of each group.
    before, after : Array
        Bores as a flow along the branch meets them, shape (groups,) [m].
    count : Array
        How many they are, shape (groups,).
    least, linear, quadratic : Array
        Low bound over rho q^2 [1/m4], and the laminar high bound over mu q [1/m3] and rho q^2
        [1/m4], of all in a group, for flow along the branch and against it, shape (2, groups).
    beyond : Array
        Flow times density over viscosity up to which that holds, shape (2, groups) [m].
    """

    groups: Groups
    before: Array
    after: Array
    count: Array
    least: Array
    linear: Array
    quadratic: Array
    beyond: Array

    @property
    def by_direction(self) -> list[tuple[Array, Array, Array]]:
        """`least`, `linear` and `quadratic` along the branch and against it."""
        return list(zip(self.least, self.linear, self.quadratic, strict=True))


def group_changes(changes: BoreChanges, branch: Indices) -> Changes:
    """Put like changes together; `branch` (changes,) is where each belongs."""
    groups, (before, after) = alike(branch, changes.before, changes.after)
    count = groups.total(np.ones(len(branch)))
    ways = [(before, after), (after, before)]
    small = np.minimum(before, after)
    linear, quadratic, number = (
        np.stack(each) for each in zip(*(laminar_change(*way) for way in ways), strict=True)
    )
    heads = 0.5 / (np.pi / 4.0 * small**2) ** 2
    return Changes(
        groups=groups,
        before=before,
        after=after,
        count=count,
        least=count * heads * np.stack([least_coefficient(*way) for way in ways]),
        linear=count * linear,
        quadratic=count * quadratic,
        beyond=number * np.pi / 4.0 * small,
    )


def add_changes(
    changes: Changes,
    band: Array,
    size: Array,
    forward: Flags,
    density: Array,
    viscosity: Array,
    loss: Array,
    slope: Array,
) -> None:
    """Add what counts beyond the laminar laws to `loss` [Pa] and `slope` [Pa s/m3].

    Arrays are (B, S), `band` is (S,) or (1,) [-].
    """
    groups = changes.groups
    if not len(groups):
        return
    ends = np.where(forward[groups.branch], changes.beyond[0, :, None], changes.beyond[1, :, None])
    group, at = groups.beyond(size * density / viscosity, floats(ends))
    if not len(at):
        return
    there = forward.reshape(-1)[at]
    flow, rho, mu = (one.reshape(-1)[at] for one in (size, density, viscosity))
    way = np.where(there, 0, 1)
    drop, steep = change_loss(
        np.where(there, flow, -flow), changes.before[group], changes.after[group], rho, mu
    )
    part = np.broadcast_to(band, size.shape).reshape(-1)[at]
    linear, quadratic = changes.linear[way, group] * mu, changes.quadratic[way, group] * rho * flow
    more = part * (changes.count[group] * np.abs(drop) - (linear + quadratic) * flow)
    steeper = part * (changes.count[group] * steep - linear - 2.0 * quadratic)
    loss += np.bincount(at, more, loss.size).reshape(loss.shape)
    slope += np.bincount(at, steeper, slope.size).reshape(slope.shape)
