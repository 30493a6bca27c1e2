"""Pressures over the filling flow with the overflow full of fuel, and the flow that is safe."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.filling_result import SafeFlow
from plumbing.simulation.ground import solved

PROOF_SHARE = 0.5  # of the proof pressure that filling may use; common practice
_MOST = 6e-3 / 60.0  # a large filling pump, 6 L/min [m3/s]; common practice
_FLOWS = 40


def safe_flow(layout: Layout, feeding: Feeding, volume: Array, crest: float) -> SafeFlow:
    """Sweep the flow with the tanks as they are in the end, all flows in one solve.

    Parameters
    ----------
    layout : Layout
        For the ratings.
    feeding : Feeding
        The network in one attitude, with one flow pushed in.
    volume : Array
        Fuel in each tank at the end, shape (1, T) [m3].
    crest : float
        Height of the overflow's highest point over its outlet [m]: while its falling part runs
        with air it gives no help, so this stands on every tank as well.
    """
    flow = np.geomspace(0.02, 1.0, _FLOWS) * max(_MOST, -2.0 * float(feeding.flow[0, 0, 0]))
    swept = _with_flow(feeding, flow)
    rows = np.arange(len(flow))
    same = np.zeros(len(flow), dtype=np.intp)
    held = np.repeat(volume, len(flow), axis=0)
    state = solved(swept, rows, same, held)
    weight = float(feeding.fluids.liquid_density[0] * np.linalg.norm(feeding.gravity[0]))
    node = feeding.plumbed.tank_node
    depth = np.array(
        [
            float(
                vessel.level(volume[:, n], feeding.index)[0] - vessel.cut.bottom[feeding.index][0]
            )
            for n, vessel in enumerate(feeding.tanks.vessels)
        ]
    )
    gas = np.where(node >= 0, state.pressure[:, node], 0.0) + weight * crest
    pressure = gas + weight * depth
    port = state.pressure[:, feeding.plumbed.demand_node[0]] + weight * crest
    tank, highest = _highest(layout, flow, pressure, volume[0] > 0.0)
    return SafeFlow(flow, pressure, port, tank, highest)


def _with_flow(feeding: Feeding, flow: Array) -> Feeding:
    return replace(feeding, flow=-flow[:, None, None])


def _highest(
    layout: Layout, flow: Array, pressure: Array, wetted: Array
) -> tuple[str, float | None]:
    """Tank that reaches half its proof pressure first, and the flow then; else the largest flow."""
    rated_any = any(tank.wall and tank.wall.proof_pressure for tank in layout.tanks.values())
    best: tuple[str, float | None] = ("", float(flow[-1]) if rated_any else None)
    for number, tank in enumerate(layout.tanks.values()):
        rated = tank.wall.proof_pressure if tank.wall else None
        if rated is None or not wetted[number]:
            continue
        allowed = PROOF_SHARE * rated
        reached = float(np.interp(allowed, pressure[:, number], flow, left=0.0))
        if best[1] is not None and reached < best[1]:
            best = (tank.name, reached)
    return best


def far_end(safe: SafeFlow, flow: float) -> tuple[Array, float]:
    """Pressure of every tank [Pa] and of the fill port [Pa] at one flow [m3/s]."""
    tanks = [np.interp(flow, safe.flow, column) for column in safe.pressure.T]
    return np.array(tanks), float(np.interp(flow, safe.flow, safe.port))
