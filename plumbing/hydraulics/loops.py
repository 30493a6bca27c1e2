"""Circuits with loops: fluids outside, flows inside, until both agree."""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics import sparse
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.contents import contents, end_share
from plumbing.hydraulics.descent import descend
from plumbing.hydraulics.found import Found
from plumbing.hydraulics.losses import compile_losses
from plumbing.hydraulics.mixing import mixed
from plumbing.hydraulics.newton import CLOSE, SLOW, State, first_guess, settle
from plumbing.hydraulics.problem import Problem, flow_scale, standing
from plumbing.hydraulics.repair import repair
from plumbing.physics.arrays import Array, Flags

ROUNDS = 80  # times the fluids are worked out anew
PLAIN = 3  # rounds that take the new fluids as they are
MET = 5e-3  # [Pa] laws met to this with the new fluids end the rounds
LEAK = 1e-15  # [1/Pa] flow of a shut branch per pascal, of the largest flow
LEAK_LARGE = 1e-13  # [1/Pa] the same for large circuits, whose matrices keep fewer digits


def solve_loops(circuit: Circuit, conditions: Conditions, demand: Array, flow: Array) -> Found:
    """Work out fluids and flows in turn; `demand` (S, N) and `flow` (S, B) [m3/s]."""
    scenarios = len(flow)
    share = np.array(np.broadcast_to(conditions.resting, demand.shape))
    found = Found(
        flow=np.zeros(flow.shape),
        pressure=np.zeros(demand.shape),
        node_share=np.zeros(demand.shape),
        end_share=np.zeros((*flow.shape, 2)),
        unmet=np.full(scenarios, np.inf),
        iterations=0,
    )
    active = np.arange(scenarios)
    relaxation = Relaxation(np.ones(scenarios), np.zeros(share.shape))
    for turn in range(ROUNDS):
        problem = pose(circuit, conditions, demand, share, flow)
        state = repair(problem, find(problem, flow))
        found.iterations += state.iterations
        flow, ends = state.flow, end_share(circuit, conditions, share, len(flow))
        mix = mixed(circuit, flow, ends, share)
        check = pose(circuit, conditions, demand, mix, flow)
        unmet = check.missed(flow, state.pressure)
        found.flow[active], found.pressure[active] = flow, state.pressure
        found.node_share[active], found.unmet[active] = mix, unmet
        found.end_share[active] = end_share(circuit, conditions, mix, len(flow))
        left = unmet > MET
        if not left.any():
            break
        conditions, demand, flow = conditions.rows(left), demand[left], flow[left]
        active, relaxation = active[left], relaxation.rows(left)
        share = relaxation.next(share[left], mix[left], turn >= PLAIN)
    return found


def find(problem: Problem, flow: Array) -> State:
    """Flows with the fluids given: fast, and surely where the fast way fails."""
    state = settle(problem, first_guess(problem, flow))
    failed = state.unmet > CLOSE
    if failed.any():
        part = problem.rows(failed)
        some = descend(part, state.rows(failed))
        state.put(np.flatnonzero(failed), some)
        state.iterations += some.iterations
    return state


def pose(
    circuit: Circuit, conditions: Conditions, demand: Array, node_share: Array, flow: Array
) -> Problem:
    """Laws of the branches when nodes pass on `node_share`; `flow` tells which way siphons run."""
    ends = end_share(circuit, conditions, node_share, len(flow))
    held = contents(circuit, conditions, ends)
    low, high = standing(held, flow)
    large = len(circuit.nodes) > sparse.LARGE
    slow = SLOW * compile_losses(circuit).area.max()
    scale = np.maximum(flow_scale(flow, demand), slow)[:, None]
    leak = (LEAK_LARGE if large else LEAK) * scale
    return Problem(circuit, conditions, held, low, high, demand, leak)


@dataclass(slots=True)
class Relaxation:
    """How far to go towards the fluids just found: Aitken's rule, scenario by scenario.

    Attributes
    ----------
    weight : Array
        Part of the way, shape (S,) [-].
    last : Array
        Way in the round before, shape (S, N) [-].
    """

    weight: Array
    last: Array

    def rows(self, which: Flags) -> "Relaxation":
        """The same for some scenarios."""
        return Relaxation(self.weight[which], self.last[which])

    def next(self, share: Array, mix: Array, careful: bool) -> Array:
        """Share to try next, shape (S, N) [-]; the whole way unless `careful`."""
        way = mix - share
        if careful:
            turned = way - self.last
            size = (turned * turned).sum(axis=1)
            weight = -self.weight * (self.last * turned).sum(axis=1) / np.where(size > 0, size, 1.0)
            self.weight = np.clip(np.abs(weight), 0.02, 1.0)
        self.last = way
        return np.clip(share + self.weight[:, None] * way, 0.0, 1.0)
