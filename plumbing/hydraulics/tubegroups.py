"""Friction in groups of like tubes, straight and curved, and the loss of developing flow.

In laminar flow all of it is a mu q + b rho q^2, and `losses` adds that up for whole branches.
What friction beyond it adds is worked out here, only where the flow is not laminar or is curved.
"""

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Tubes
from plumbing.hydraulics.grouping import Groups, alike
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.bends import STRAIGHTEST, bend_ratio
from plumbing.physics.developing import LAMINAR_UP_TO
from plumbing.physics.friction import LAMINAR, laminar_excess


@frozen(eq=False)
class TubeGroups:
    """Tubes of one branch with the same bore, roughness and curve, each group as one tube.

    Attributes
    ----------
    groups : Groups
        Branch of each group.
    laminar : Array
        Straight laminar loss over mu q, shape (groups,) [1/m3].
    entry : Array
        Loss of developing flow over rho q^2, shape (groups,) [1/m4].
    number : Array
        Reynolds number over rho q / mu, shape (groups,) [1/m].
    roughness : Array
        Over the bore, shape (groups,) [-].
    curvature : Array
        Bore over diameter of the curve, 0 for straight tube, shape (groups,) [-].
    beyond : Array
        Flow times density over viscosity from which more counts, shape (groups,) [m].
    """

    groups: Groups
    laminar: Array
    entry: Array
    number: Array
    roughness: Array
    curvature: Array
    beyond: Array


def group_tubes(tubes: Tubes, branch: Indices) -> TubeGroups:
    """Put like tubes together; `branch` (tubes,) is where each belongs."""
    curved = tubes.bend_length > 0.0
    both = np.concatenate([branch, branch[curved]])

    def twice(values: Array, bent: Array) -> Array:
        return np.concatenate([values, bent[curved]])

    bore = twice(tubes.bore, tubes.bore)
    curve = twice(np.zeros(len(branch)), tubes.bore / np.where(curved, tubes.coil, 1.0))
    rough = twice(tubes.roughness, tubes.roughness)
    straight = np.maximum(tubes.length - tubes.bend_length, 0.0)
    length = twice(straight, np.minimum(tubes.bend_length, tubes.length))
    groups, (bore_of, rough_of, curve_of) = alike(both, bore, rough, curve)
    heads = groups.total(twice(tubes.entry, np.zeros(len(branch))))
    number = 4.0 / np.pi / bore_of
    bends = STRAIGHTEST / np.sqrt(np.where(curve_of > 0.0, curve_of, np.inf))
    return TubeGroups(
        groups=groups,
        laminar=128.0 / np.pi * groups.total(length) / bore_of**4,
        entry=heads * 0.5 / (np.pi / 4.0 * bore_of**2) ** 2,
        number=number,
        roughness=rough_of / bore_of,
        curvature=curve_of,
        beyond=np.where(curve_of > 0.0, np.minimum(LAMINAR, bends), LAMINAR) / number,
    )


def add_friction(
    tubes: TubeGroups, size: Array, density: Array, viscosity: Array, loss: Array, slope: Array
) -> None:
    """Add what counts beyond the laminar laws to `loss` [Pa] and `slope` [Pa s/m3]; all (B, S).

    The loss of developing flow is that of laminar flow; beyond it stays what it is at the end of
    laminar flow, so that no loss falls as flow rises.
    """
    group, at = tubes.groups.beyond(size * density / viscosity, tubes.beyond[:, None])
    if not len(at):
        return
    flow, rho, mu = (one.reshape(-1)[at] for one in (size, density, viscosity))
    re = flow * rho / mu * tubes.number[group]
    ratio, growth = laminar_excess(re, tubes.roughness[group])
    curved = np.flatnonzero(tubes.curvature[group])
    if len(curved):
        of = group[curved]
        ratio[curved], growth[curved] = bend_ratio(
            re[curved], tubes.curvature[of], tubes.roughness[of]
        )
    resistance = mu * tubes.laminar[group]
    steeper = ((1.0 + growth) * ratio - 1.0) * resistance
    more = (ratio - 1.0) * resistance * flow
    past = np.flatnonzero((re > LAMINAR_UP_TO) & (tubes.entry[group] > 0.0))
    if len(past):
        extra = tubes.entry[group[past]] * rho[past] * flow[past]
        more[past] += extra * flow[past] * ((LAMINAR_UP_TO / re[past]) ** 2 - 1.0)
        steeper[past] -= 2.0 * extra
    loss += np.bincount(at, more, loss.size).reshape(loss.shape)
    slope += np.bincount(at, steeper, slope.size).reshape(slope.shape)
