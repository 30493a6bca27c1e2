"""What each pump draws: the flows of the engines it feeds, at any throttle."""

from __future__ import annotations

import numpy as np

from plumbing.errors import SolveError
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array


def demands(
    layout: Layout,
    survey: Survey,
    plumbed: Plumbed,
    throttle: Array,
    recorded: Array | None = None,
) -> Array:
    """Flow drawn by each demand of a circuit.

    An engine fed by several pumps side by side draws alike from each; a recorded flow is shared
    among the engines as their full flows are.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    plumbed : Plumbed
        Circuit with P demands.
    throttle : Array
        Fuel flow between idle (0) and full (1), shape (K,) [-].
    recorded : Array, optional
        Flow of all engines together, which then counts instead, shape (K,) [m3/s].

    Returns
    -------
    Array
        Flows, shape (K, P) [m3/s]; 0 for a pump that feeds no engine.

    Raises
    ------
    SolveError
        A pump delivers into a tank: what it gives then is not known.
    """
    _require_engines_alone(layout, plumbed)
    idle, full = np.zeros(len(plumbed.demands)), np.zeros(len(plumbed.demands))
    for engine in layout.engines.values():
        served = _demands_of(survey, plumbed, engine.name)
        for number in served:
            idle[number] += (engine.idle_flow or 0.0) / len(served)
            full[number] += (engine.full_flow or 0.0) / len(served)
    if recorded is not None and full.any():
        shared: Array = recorded[:, None] * (full / full.sum())
        return shared
    return idle + throttle[:, None] * (full - idle)


def _require_engines_alone(layout: Layout, plumbed: Plumbed) -> None:
    """Raise SolveError if the outlet of a pump hangs together with a tank."""
    nodes = set(plumbed.circuit.nodes)
    into = ", ".join(name for name in layout.pumps if f"{name}.out" in nodes)
    if into:
        raise SolveError(f"{into} delivers into a tank, and what a transfer pump moves is unknown")


def engines_of(layout: Layout, survey: Survey, demand: str) -> dict[str, float]:
    """Engines that a pump (or an engine itself) draws for, with the part of its flow for each."""
    served = {
        name: engine.full_flow or 0.0
        for name, engine in layout.engines.items()
        if demand in (*survey.feeds[name].pumps, name)
    }
    total = sum(served.values())
    return {name: full / total for name, full in served.items()} if total > 0.0 else {}


def _demands_of(survey: Survey, plumbed: Plumbed, engine: str) -> list[int]:
    """Demands of the circuit that an engine's fuel passes: its pumps, or itself."""
    feed = survey.feeds[engine]
    passed = {*feed.pumps, engine}
    return [number for number, name in enumerate(plumbed.demands) if name in passed]
