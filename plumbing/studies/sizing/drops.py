"""What every tube would cost on every line, in all cases of peak flow at once."""

from collections.abc import Sequence
from dataclasses import replace

import networkx as nx
import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.branch_laws import blend
from plumbing.hydraulics.breakdown import way_losses
from plumbing.hydraulics.layout_circuit import Row
from plumbing.hydraulics.line_elements import Reference, line_rows
from plumbing.model.layout import Layout
from plumbing.network.lengths import line_length
from plumbing.physics.arrays import Array, Flags
from plumbing.simulation.peak_networks import Solved
from plumbing.studies.sizing.variants import line_with, made_for

_BAND = 0.5  # loss coefficients in the middle of their band, as peak flow takes them


@frozen(eq=False)
class Ways:
    """Which branches every unit of fuel to a demand must pass.

    Attributes
    ----------
    bridge : Flags
        Branches whose flow follows from the demands alone, shape (B,).
    serves : Flags
        Whether a bridge lies between the outside and each demand, shape (P, B).
    """

    bridge: Flags
    serves: Flags


def ways(solved: Solved) -> Ways:
    """Bridges of a circuit, the outside taken as one node."""
    plumbed = solved.feeding.plumbed
    circuit = plumbed.circuit
    outside = len(circuit.nodes)
    ends = np.where(circuit.fixed, outside, np.arange(outside))
    graph = nx.MultiGraph()
    for branch, (a, b) in enumerate(zip(ends[circuit.start], ends[circuit.end], strict=True)):
        graph.add_edge(int(a), int(b), key=branch)
    bridge = np.zeros(len(circuit.branches), bool)
    serves = np.zeros((len(plumbed.demands), len(circuit.branches)), bool)
    for a, b, branch in list(graph.edges(keys=True)):
        graph.remove_edge(a, b, branch)
        if a != b and not nx.has_path(graph, a, b):
            bridge[branch] = True
            root = outside if outside in graph else a
            for demand, node in enumerate(plumbed.demand_node):
                serves[demand, branch] = not nx.has_path(graph, root, int(ends[node]))
        graph.add_edge(a, b, branch)
    return Ways(bridge, serves)


def line_drops(
    layout: Layout, solved: Solved, names: Sequence[str], tubes: Sequence[str], new_joints: bool
) -> Array:
    """Loss of each line with each tube at its flow in every case.

    Parameters
    ----------
    layout : Layout
        The layout.
    solved : Solved
        Its suction network as drawn, in S cases.
    names : sequence of str
        Lines of that network, L of them.
    tubes : sequence of str
        Tubes, T of them.
    new_joints : bool
        Whether each tube comes with barbs made for it.

    Returns
    -------
    Array
        Shape (L, T, S) [Pa].
    """
    plumbed, feeding = solved.feeding.plumbed, solved.feeding
    if not names or not tubes:
        return np.zeros((len(names), len(tubes), len(solved.solution.flow)))
    ways = _elements(layout, names, tubes, new_joints)
    branch = np.array([plumbed.line_branch[name][0] for name in names], dtype=np.intp)
    along = np.array([1.0 if plumbed.line_branch[name][1] else -1.0 for name in names])
    fluids = feeding.fluids
    share = solved.solution.share[:, branch].T
    flow, density, viscosity = (
        np.repeat(values, len(tubes), axis=1)
        for values in (
            solved.solution.flow[:, branch] * along,
            blend(share, fluids.liquid_density, fluids.gas_density).T,
            blend(share, fluids.liquid_viscosity, fluids.gas_viscosity).T,
        )
    )
    loss = way_losses(ways, flow, density, viscosity, _BAND)
    return np.moveaxis(loss.reshape(-1, len(names), len(tubes)), 0, 2)


def _elements(
    layout: Layout, names: Sequence[str], tubes: Sequence[str], new_joints: bool
) -> list[list[Row]]:
    """Elements of each line with each tube."""
    reference = Reference(1.0, 1.0)  # filters keep their drops; lines do not read it
    bench = layout
    if new_joints:
        made = {joint.name: joint for tube in tubes for joint in [made_for(layout, tube)]}
        bench = replace(layout, joints={**layout.joints, **made})
    lines = [line_with(layout.lines[name], tube, new_joints) for name in names for tube in tubes]
    return [line_rows(bench, line, line_length(bench, line).used, reference) for line in lines]
