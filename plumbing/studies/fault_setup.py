"""What each fault changes, as arrays over the scenarios; the first scenario has none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.compile import compile_suction
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.hydraulics.losses import Moving, branch_loss, compile_losses
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags
from plumbing.simulation.demand import demands
from plumbing.simulation.fluid import Fluids
from plumbing.simulation.profile import Profile
from plumbing.simulation.setup import reference_of
from plumbing.simulation.tankage import Tankage
from plumbing.studies.fault_list import Effect, ends_at
from plumbing.studies.fault_variants import without_pickup
from plumbing.studies.leaky import hole_at


def flows(
    layout: Layout, survey: Survey, profile: Profile, plumbed: Plumbed, found: Sequence[Effect]
) -> Array:
    """Flow of the pumps, shape (S, K, P) [m3/s]."""
    drawn = demands(layout, survey, plumbed, profile.throttle, profile.flow)
    result = np.repeat(drawn[None], len(found) + 1, axis=0)
    for number, one in enumerate(found, 1):
        for demand, factor in one.flow.items():
            result[number, :, demand] *= factor
    return result


def blocked(layout: Layout, plumbed: Plumbed, found: Sequence[Effect]) -> Flags:
    """Closed branch ends, shape (S, B, 2)."""
    shut = frozenset(name for name, valve in layout.valves.items() if valve.flight == "closed")
    result = np.repeat(plumbed.blocked(shut)[None], len(found) + 1, axis=0)
    holes = {hole_at(one.leak): one.leak for one in found if one.leak}
    result[:, [name in holes for name in plumbed.circuit.branches]] = True
    for number, one in enumerate(found, 1):
        if one.leak:
            result[number, plumbed.circuit.branches.index(hole_at(one.leak))] = False
        for branch, end in one.closed:
            result[number, branch, end] = True
        for branch, end in one.opened:
            result[number, branch, end] = False
    return result


def dirt(plumbed: Plumbed, found: Sequence[Effect]) -> Array:
    """Factor on the drop of each filter, shape (S, F)."""
    result = np.ones((len(found) + 1, len(plumbed.dirty)))
    for number, one in enumerate(found, 1):
        for place in one.dirty:
            result[number, place] = plumbed.dirty[place]
    return result


def start(layout: Layout, tanks: Tankage, found: Sequence[Effect]) -> Array:
    """Fuel in each tank at the start, shape (S, T) [m3]."""
    full = tanks.filled([tank.fuel for tank in layout.tanks.values()])
    result = np.repeat(full[None], len(found) + 1, axis=0)
    for number, one in enumerate(found, 1):
        for tank, share in one.start.items():
            result[number, tank] *= share
    return result


def slug(plumbed: Plumbed, found: Sequence[Effect]) -> Array:
    """Height of the fuel that stands in each branch, for either end, shape (S, B, 2) [m]."""
    result = np.zeros((len(found) + 1, len(plumbed.circuit.branches), 2))
    for number, one in enumerate(found, 1):
        for line, height in one.slug.items():
            result[number, plumbed.line_branch[line][0]] = height
    return result


def multiplier(
    layout: Layout, survey: Survey, plumbed: Plumbed, fluids: Fluids, found: Sequence[Effect]
) -> Array:
    """Factor on the loss of each branch, shape (S, B): less where a pickup and its hose are gone.

    By what the branch loses at full flow with and without them.
    """
    result = np.ones((len(found) + 1, len(plumbed.circuit.branches)))
    for number, one in enumerate(found, 1):
        tank, port, how = one.pickup
        if how != "off":
            continue
        bare = replace(
            layout, tanks={**layout.tanks, tank: without_pickup(layout.tanks[tank], port)}
        )
        drawn = compile_suction(bare, survey, reference_of(layout), filling=True)
        assert drawn is not None, "the same lines join the same parts"
        for branch in sorted({branch for branch, _ in ends_at(plumbed, tank, port)}):
            whole = _at_full_flow(layout, plumbed.circuit, branch, fluids)
            if whole > 0.0:
                left = _at_full_flow(layout, drawn.circuit, branch, fluids)
                result[number, branch] = left / whole
    return result


def _at_full_flow(layout: Layout, circuit: Circuit, branch: int, fluids: Fluids) -> float:
    """Loss of one branch with fuel at an engine's full flow [Pa]."""
    shape = (1, len(circuit.branches))
    moving = Moving(
        np.full(shape, layout.full_flow / max(len(layout.engines), 1)),
        np.ones(shape, dtype=bool),
        np.full(shape, fluids.liquid_density[0]),
        np.full(shape, fluids.liquid_viscosity[0]),
    )
    conditions = Conditions.of(circuit, band=0.5)
    return float(branch_loss(compile_losses(circuit), conditions, moving)[0][0, branch])


def propped(plumbed: Plumbed, found: Sequence[Effect]) -> Flags:
    """Branch ends at which a check valve stands open, shape (S, B, 2)."""
    result = np.zeros((len(found) + 1, len(plumbed.circuit.branches), 2), dtype=bool)
    for number, one in enumerate(found, 1):
        for branch, end in one.opened:
            result[number, branch, end] = True
    return result
