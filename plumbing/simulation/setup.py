"""The one way from a layout to a network that can be run, in the air or on the ground."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from plumbing.errors import SolveError
from plumbing.hydraulics.compile import compile_suction
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.hydraulics.line_elements import Reference
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.sealed import given
from plumbing.simulation.state import tank_ends
from plumbing.simulation.tankage import distinct_directions, tankage

LEVEL = np.array([[0.0, 0.0, -1.0]])  # direction of gravity in level flight


def set_up(
    layout: Layout,
    survey: Survey,
    gravity: Array,
    *,
    surface: Array | None = None,
    closed: frozenset[str],
    celsius: Array | float | None = None,
    ports: bool = False,
    side: int = 0,
    centres: bool = True,
    breathers: Mapping[str, tuple[str, ...]] = MappingProxyType({}),
    flow: float | None = None,
) -> Feeding:
    """Network and tanks as drawn, ready to be run; nothing is drawn or pushed in yet.

    The first direction of gravity is always level flight.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    gravity : Array
        Effective gravity of every stretch, shape (K, 3) [m/s2].
    surface : Array, optional
        Direction across which the fuel lies in each tank, shape (K, T, 3) [-]; that of gravity by
        default.
    closed : frozenset of str
        Valves that are closed.
    celsius : Array or float, optional
        Fuel temperature, one or one for each scenario [degC]; the usual one by default.
    ports : bool
        Whether closed fill ports and drains are kept as nodes.
    side : int
        Which end of the tolerances: -1 kind, 0 as drawn, +1 unkind.
    centres : bool
        Whether centres of the fuel will be asked for.
    breathers : mapping of str to tuple of str
        As for `tankage`.
    flow : float, optional
        As for `tankage` [m3/s].

    Raises
    ------
    SolveError
        No open line joins a tank to anything.
    """
    plumbed = compile_suction(layout, survey, reference_of(layout, side), filling=ports)
    if plumbed is None:
        raise SolveError("no open line joins a tank to anything")
    plumbed = folding(plumbed, survey.bags)
    warmth = np.atleast_1d(layout.fuel.temperature.usual if celsius is None else celsius)
    each = np.empty((len(gravity), 0, 3)) if surface is None else surface
    felt = np.concatenate([gravity[:, None], each], axis=1)
    level = np.broadcast_to(LEVEL, felt[:1].shape)
    ways, index = distinct_directions(np.concatenate([level, felt]))
    order = np.argsort(np.arange(len(ways)) != index[0], kind="stable")
    ways, index = ways[order], np.argsort(order)[index]
    down, across = ways[:, 0], None if surface is None else ways[:, 1:]
    circuit, count = plumbed.circuit, len(gravity)
    return Feeding(
        ends=tank_ends(
            plumbed, tankage(layout, down, centres, breathers, flow, across, survey.bags)
        ),
        gravity=gravity,
        index=index[1:],
        flow=np.zeros((1, count, len(plumbed.demands))),
        fluids=fluids_at(layout, warmth, 1.0 + side * layout.tolerances.viscosity),
        stream=np.zeros(count),
        coefficient=np.zeros((1, len(circuit.nodes))),
        blocked=plumbed.blocked(closed)[None],
        multiplier=np.ones((1, len(circuit.branches))),
        dirt=np.ones((1, len(plumbed.dirty))),
        band=0.5 * (1 + side),
    )


def folding(plumbed: Plumbed, bags: tuple[str, ...]) -> Plumbed:
    """The same with the pressure in bags given: how full they are decides it."""
    nodes = [int(plumbed.tank_node[plumbed.tanks.index(name)]) for name in bags]
    return given(plumbed, np.array([node for node in nodes if node >= 0], dtype=np.intp))


def reference_of(layout: Layout, side: int = 0) -> Reference:
    """What drops are stated at where the file does not say: full flow, usual temperature."""
    usual = fluids_at(layout, np.array([layout.fuel.temperature.usual]))
    full = layout.full_flow
    return Reference(full, float(usual.liquid_viscosity[0]), -side * layout.tolerances.bore)


def closed_while(layout: Layout, state: str) -> frozenset[str]:
    """Valves stated as closed in `flight`, while `filling` or `parked`; check valves never."""
    return frozenset(
        name
        for name, valve in layout.valves.items()
        if valve.kind != "check" and getattr(valve, state) == "closed"
    )
