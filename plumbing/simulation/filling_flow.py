"""The highest flow at which no tank comes near to its limit while it is filled."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array
from plumbing.simulation.filling_pump import Pump
from plumbing.simulation.filling_result import SafeFlow
from plumbing.simulation.filling_run import FillingRun, lowest_of
from plumbing.simulation.tankage import Tankage

PROOF_SHARE = 0.5  # of the proof pressure that filling may use; common practice
STEP = 1e-6 / 60.0  # flows are told to a millilitre a minute [m3/s]
_MOST = 6e-3 / 60.0  # a large filling pump, 6 L/min [m3/s]; common practice
_AT_ONCE = 40  # flows in one solve
_RUNS = 6  # flows in one batch of runs

Running = Callable[[Array], tuple[FillingRun, ...]]


def safe_flow(layout: Layout, run: FillingRun, again: Running) -> SafeFlow:
    """Find the largest flow, in whole ml/min, at which the run trips no tank's limit.

    A first guess comes from the end of the run, all flows in one solve; runs at that flow and at
    the next decide.

    Parameters
    ----------
    layout : Layout
        For the limits of the tanks.
    run : FillingRun
        The run at the stated flow.
    again : callable
        Runs at other flows, shape (S,) [m3/s].
    """
    reached = run.volume[-1] > 0.0
    allowed = np.where(reached, allowed_pressures(layout, run.network.tanks), np.inf)
    stated = [t.fill_flow for t in layout.tanks.values()]
    slowest = np.array([np.inf if flow is None else flow for flow in stated])
    slowest[~reached] = np.inf
    if np.isinf(allowed).all() and np.isinf(slowest).all():
        return SafeFlow(None, "", "no tank that fuel reaches states its proof pressure")
    most = _whole(min(max(_MOST, 2.0 * run.flow), float(slowest.min())))
    names = list(layout.tanks)
    highest, tank = _searched(run, allowed, most, again)
    if tank < 0 and np.isfinite(slowest).any():
        tank = int(slowest.argmin()) if slowest.min() < (most + 1) * STEP else -1
    return SafeFlow(highest * STEP, names[tank] if tank >= 0 else "", "")


def allowed_pressures(layout: Layout, tanks: Tankage) -> Array:
    """What each tank may come under while it is filled, shape (T,) [Pa]; inf where not stated.

    It is inf for a bag that folds, too: its pressure follows how full it is, at any flow.
    """
    proofs = [
        None if vessel.bag or tank.wall is None else tank.wall.proof_pressure
        for tank, vessel in zip(layout.tanks.values(), tanks.vessels, strict=True)
    ]
    return np.array([np.inf if proof is None else PROOF_SHARE * proof for proof in proofs])


def _whole(flow: float) -> int:
    return int(np.floor(flow / STEP + 1e-6))


def _searched(run: FillingRun, allowed: Array, most: int, again: Running) -> tuple[int, int]:
    """Highest flow [ml/min], and which tank decides: -1 if none does up to the most."""
    good, bad, tank = 0, most + 1, -1
    guess = _guess(run, allowed, most)
    tried = np.unique(np.clip([guess, guess + 1], 1, most))
    while bad - good > 1:
        flows = tried[(tried > good) & (tried < bad)]
        over = np.array([one.highest for one in again(flows * STEP)]) - allowed
        trips = (over > 0.0).any(axis=1)
        if trips.any():
            first = int(np.argmax(trips))
            bad, tank = int(flows[first]), int(over[first].argmax())
            flows = flows[:first]
        good = int(flows[-1]) if flows.size else good
        tried = np.unique(np.linspace(good, bad, _RUNS + 2).astype(int))
    return good, tank


def _guess(run: FillingRun, allowed: Array, most: int) -> int:
    """Highest flow [ml/min] with the tanks as they are at the end, the overflow full of fuel."""
    good, bad = 0, most + 1
    while bad - good > 1:
        flows = np.unique(np.linspace(good, bad, _AT_ONCE + 2).astype(int))[1:-1]
        rows = np.arange(len(flows))
        held = np.repeat(run.full.volume[:1], len(flows), axis=0)
        work = Pump(run.overflow, run.node, flows * STEP).at_rest()
        gas = np.maximum(run.network.tanks.capacity - run.network.tanks.total(held), 0.0)
        pressure = work.pressures(work.balance(rows, np.zeros_like(rows), held, gas), rows)
        trips = (lowest_of(run.network, pressure, held) > allowed).any(axis=1)
        if trips.any():
            bad = int(flows[int(np.argmax(trips))])
            flows = flows[flows < bad]
        good = int(flows[-1]) if flows.size else good
    return good
