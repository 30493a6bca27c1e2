"""A circuit with joints that can leak: a hole to the outside at each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from typing import Any

import numpy as np

from plumbing.hydraulics.circuit import Fittings
from plumbing.hydraulics.layout_circuit import NO_TANK, Plumbed, Tag
from plumbing.physics.arrays import Array, Indices

HOLE = 0.3e-3  # diameter of a leak at a joint [m]; common practice
_DISCHARGE = 0.6  # discharge coefficient of a hole with a sharp edge; handbook value


def hole_at(joint: str) -> str:
    """Name of the hole beside a joint."""
    return f"leak at {joint}"


def leaky(plumbed: Plumbed, joints: Sequence[str]) -> Plumbed:
    """Put a hole to the outside beside each of L joints; it passes air in, or fuel out.

    Parameters
    ----------
    plumbed : Plumbed
        The circuit, B branches, with the joints as nodes.
    joints : sequence of str
        Names of these nodes. The branch of joint n is B + n.

    References
    ----------
    Flow through a sharp hole, incompressible: 0.6 area sqrt(2 pressure / density).
    """
    circuit, count = plumbed.circuit, len(joints)
    inner = np.array([circuit.nodes.index(name) for name in joints], dtype=np.intp)
    names = tuple(hole_at(name) for name in joints)
    nodes, branches = len(circuit.nodes), len(circuit.branches)
    outer = nodes + np.arange(count)
    made = replace(
        circuit,
        nodes=(*circuit.nodes, *names),
        fixed=_grown(circuit.fixed, np.ones(count, dtype=bool)),
        mixing=_grown(circuit.mixing, np.zeros(count, dtype=bool)),
        branches=(*circuit.branches, *names),
        start=_grown(circuit.start, outer),
        end=_grown(circuit.end, inner),
        points=_grown(circuit.points, np.stack([_places(plumbed, inner)] * 2, axis=1)),
        elements=(*circuit.elements, *names),
        element_branch=_grown(circuit.element_branch, branches + np.arange(count)),
        fittings=_with_holes(circuit.fittings, len(circuit.elements), count),
    )
    return replace(
        plumbed,
        circuit=made,
        tags=(*plumbed.tags, *(Tag("", "", name) for name in names)),
        end_tank=_grown(plumbed.end_tank, np.full((count, 2), NO_TANK)),
        end_port=(*plumbed.end_port, *[("", "")] * count),
        outlets=(*plumbed.outlets, *names),
        outlet_node=_grown(plumbed.outlet_node, outer),
        pore=_grown(plumbed.pore, np.zeros((count, 2))),
        cracking=_grown(plumbed.cracking, np.zeros((count, 2))),
        one_way=_grown(plumbed.one_way, np.zeros((count, 2), dtype=bool)),
    )


def _grown(array: Any, more: Any) -> Any:
    return np.concatenate([array, more.astype(array.dtype)])


def _places(plumbed: Plumbed, nodes: Indices) -> Array:
    """Where nodes are: the end of any branch there, shape (L, 3) [m]."""
    circuit = plumbed.circuit
    ends, points = np.stack([circuit.start, circuit.end], axis=1), circuit.points
    return np.array([points[tuple(np.argwhere(ends == node)[0])] for node in nodes]).reshape(-1, 3)


def _with_holes(fittings: Fittings, elements: int, count: int) -> Fittings:
    each = np.ones(count)
    holes = Fittings(
        element=elements + np.arange(count),
        k1=0.0 * each,
        k_inf_low=each / _DISCHARGE**2,
        k_inf_high=each / _DISCHARGE**2,
        bore=HOLE * each,
    )
    return Fittings(
        *(_grown(getattr(fittings, one.name), getattr(holes, one.name)) for one in fields(Fittings))
    )
