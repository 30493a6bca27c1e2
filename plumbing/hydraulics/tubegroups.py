"""Friction in groups of like tubes, straight and curved, and the loss of developing flow."""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics.elements import Tubes
from plumbing.hydraulics.grouping import Groups, alike
from plumbing.physics.arrays import Array, Indices
from plumbing.physics.bends import bend_ratio
from plumbing.physics.developing import LAMINAR_UP_TO
from plumbing.physics.friction import laminar_excess


@dataclass(frozen=True, slots=True, eq=False)
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
    """

    groups: Groups
    laminar: Array
    entry: Array
    number: Array
    roughness: Array
    curvature: Array


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
    return TubeGroups(
        groups=groups,
        laminar=128.0 / np.pi * groups.total(length) / bore_of**4,
        entry=heads * 0.5 / (np.pi / 4.0 * bore_of**2) ** 2,
        number=4.0 / np.pi / bore_of,
        roughness=rough_of / bore_of,
        curvature=curve_of,
    )


def add_tubes(
    tubes: TubeGroups, size: Array, density: Array, viscosity: Array, loss: Array, slope: Array
) -> None:
    """Add the loss of all groups to `loss` [Pa] and `slope` [Pa s/m3]; all arrays (B, S).

    The loss of developing flow is that of laminar flow; beyond it stays what it is at the end of
    laminar flow, so that no loss falls as flow rises.
    """
    at = tubes.groups.branch
    if not len(at):
        return
    flow, rho, mu = size[at], density[at], viscosity[at]
    re = flow * rho
    re *= tubes.number[:, None]
    re /= mu
    ratio, growth = _friction(tubes, re)
    mu *= tubes.laminar[:, None]
    ratio *= mu
    growth += 1.0
    growth *= ratio
    ratio *= flow
    if tubes.entry.any():
        extra = rho
        extra *= tubes.entry[:, None]
        extra *= flow
        if re.max() > LAMINAR_UP_TO:
            share = np.minimum(1.0, LAMINAR_UP_TO / np.maximum(re, LAMINAR_UP_TO))
            growth += np.where(re < LAMINAR_UP_TO, 2.0 * extra, 0.0)
            extra *= share * share
        else:
            growth += 2.0 * extra
        extra *= flow
        ratio += extra
    tubes.groups.add(ratio, loss)
    tubes.groups.add(growth, slope)


def _friction(tubes: TubeGroups, re: Array) -> tuple[Array, Array]:
    """Friction over 64/Re and its growth, each shape (groups, S)."""
    ratio, growth = laminar_excess(re, tubes.roughness[:, None])
    curved = np.flatnonzero(tubes.curvature)
    if len(curved):
        ratio[curved], growth[curved] = bend_ratio(
            re[curved], tubes.curvature[curved, None], tubes.roughness[curved, None]
        )
    return ratio, growth
