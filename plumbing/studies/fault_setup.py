"""What each fault changes, as arrays over the scenarios; the first scenario has none."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from plumbing.hydraulics.along import Reference
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.losses import Moving, branch_loss, compile_losses
from plumbing.hydraulics.plumbed import Plumbed
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags
from plumbing.physics.bores import change_band
from plumbing.simulation.demand import demands
from plumbing.simulation.fluid import Fluids
from plumbing.simulation.profile import Profile
from plumbing.simulation.tankage import Tankage
from plumbing.studies.fault_list import Effect
from plumbing.studies.leaky import hole_at

PINCH = 0.4  # of its bore, what a pinched line has left; common practice
PINCHED = 2.0  # length of the narrow place, in outer diameters; common practice


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
    full = np.array([tank.fill for tank in layout.tanks.values()]) * tanks.capacity
    result = np.repeat(full[None], len(found) + 1, axis=0)
    for number, one in enumerate(found, 1):
        for tank, share in one.start.items():
            result[number, tank] *= share
    return result


def multiplier(
    layout: Layout,
    plumbed: Plumbed,
    found: Sequence[Effect],
    fluids: Fluids,
    reference: Reference,
) -> Array:
    """Factor on the loss of each branch, shape (S, B).

    A pinch adds its own loss at full flow, and the legs of a reversed tee change places.
    """
    circuit = plumbed.circuit
    result = np.ones((len(found) + 1, len(circuit.branches)))
    flow = reference.flow / max(len(layout.engines), 1)
    rho, mu = fluids.liquid_density, fluids.liquid_viscosity
    shape = (1, len(circuit.branches))
    moving = Moving(
        np.full(shape, flow), np.ones(shape, bool), np.full(shape, rho[0]), np.full(shape, mu[0])
    )
    loss = branch_loss(compile_losses(circuit), Conditions.of(circuit, band=0.5), moving)[0][0]
    for number, one in enumerate(found, 1):
        if one.pinched:
            branch = plumbed.line_branch[one.pinched][0]
            extra = _pinch(layout, one.pinched, flow, float(rho[0]), float(mu[0]))
            result[number, branch] += extra / max(float(loss[branch]), 1e-3)
        if one.swapped[0] >= 0:
            legs = [
                _leg(circuit, place, flow, float(rho[0]), float(mu[0])) for place in one.swapped
            ]
            for place, own, other in zip(one.swapped, legs, reversed(legs), strict=True):
                branch = int(circuit.element_branch[place])
                result[number, branch] += (other - own) / max(float(loss[branch]), 1e-3)
    return np.maximum(result, 0.0)


def _leg(circuit: Circuit, element: int, flow: float, density: float, viscosity: float) -> float:
    """Loss of a tee's leg at a flow, in the middle of its band [Pa]."""
    fittings = circuit.fittings
    at = int(np.flatnonzero(fittings.element == element)[0])
    bore = float(fittings.bore[at])
    speed = flow / (np.pi / 4.0 * bore**2)
    k = 0.5 * float(fittings.k_inf_low[at] + fittings.k_inf_high[at])
    viscous = float(fittings.k1[at]) * viscosity / bore * speed
    return 0.5 * (viscous + k * density * speed**2)


def _pinch(layout: Layout, name: str, flow: float, density: float, viscosity: float) -> float:
    """Loss of a pinched place, into it, along it and out of it, in the middle of its band [Pa]."""
    tube = layout.tube_of(layout.lines[name])
    bore = tube.inside_diameter
    narrow = PINCH * bore
    entry = change_band(flow, bore, narrow, density, viscosity)
    outlet = change_band(flow, narrow, bore, density, viscosity)
    length = PINCHED * tube.outside_diameter
    along = 128.0 * viscosity * length * flow / (np.pi * narrow**4)
    return along + 0.5 * float(sum(entry) + sum(outlet))
