"""What a solve gives back."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from plumbing.physics.arrays import Array, Flags, Indices

_BY_SCENARIO = (
    "pressure",
    "flow",
    "share",
    "node_share",
    "converged",
    "volume_residual",
    "pressure_residual",
    "starved",
)


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """Pressures and flows of a batch of S scenarios.

    Attributes
    ----------
    nodes, branches : tuple of str
        Names, in the order of the arrays.
    pressure : Array
        Gauge pressure at each node, shape (S, N) [Pa].
    flow : Array
        Flow from start to end of each branch, shape (S, B) [m3/s].
    share : Array
        Liquid share of what each branch carries, shape (S, B) [-]. Liquid balances at mixing
        nodes as exactly as volume does.
    node_share : Array
        Liquid share that each mixing node passes on, shape (S, N) [-].
    converged : Flags
        Whether all laws are met: volume to 1e-9 of the largest flow and pressure to 0.01 Pa,
        shape (S,).
    iterations : int
        Linear solves made for the slowest scenario.
    volume_residual : Array
        Largest imbalance at a node over the largest flow, shape (S,) [-].
    pressure_residual : Array
        Largest pressure by which a branch misses its law, shape (S,) [Pa].
    starved : Flags
        Nodes that cannot get what is drawn there, or rid of what is pushed in: no way to a fixed
        pressure, or more than an atmosphere of suction needed, shape (S, N).
    """

    nodes: tuple[str, ...]
    branches: tuple[str, ...]
    pressure: Array
    flow: Array
    share: Array
    node_share: Array
    converged: Flags
    iterations: int
    volume_residual: Array
    pressure_residual: Array
    starved: Flags

    def rows(self, which: Indices) -> Solution:
        """The same for some scenarios."""
        return replace(self, **{name: getattr(self, name)[which] for name in _BY_SCENARIO})

    def put(self, which: Indices, other: Solution) -> Solution:
        """The same with some scenarios from another."""
        arrays = {name: getattr(self, name).copy() for name in _BY_SCENARIO}
        for name, array in arrays.items():
            array[which] = getattr(other, name)
        return replace(self, **arrays, iterations=self.iterations + other.iterations)

    def starved_nodes(self, scenario: int = 0) -> tuple[str, ...]:
        """Names of the starved nodes of one scenario."""
        return tuple(self.nodes[node] for node in np.flatnonzero(self.starved[scenario]))

    def why(self, scenario: int = 0) -> str:
        """Why one scenario has no answer, in words; empty if it has one."""
        names = ", ".join(self.starved_nodes(scenario))
        if names and self.converged[scenario]:
            return f"more than an atmosphere of suction would be needed at {names}"
        if names:
            return f"no open way for air or fuel to {names}"
        if not self.converged[scenario]:
            off = self.pressure_residual[scenario]
            return f"no steady state found: pressures are off by {off:.3g} Pa"
        return ""
