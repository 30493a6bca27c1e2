"""Circuits with loops: fluids outside, flows inside, until both agree."""

import numpy as np

from plumbing.hydraulics import nodal
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.contents import contents, end_share
from plumbing.hydraulics.found import Found
from plumbing.hydraulics.interior import approach
from plumbing.hydraulics.losses import compile_losses
from plumbing.hydraulics.mixing import mixed
from plumbing.hydraulics.newton import CLOSE, SLOW, State, first_guess, settle
from plumbing.hydraulics.problem import SMALL_FLOW, Problem, flow_scale, standing
from plumbing.hydraulics.relaxation import Relaxation
from plumbing.hydraulics.repair import repair
from plumbing.hydraulics.swinging import Swinging
from plumbing.physics.arrays import Array, Flags

ROUNDS = 200  # times the fluids are worked out anew
MET = 9e-3  # [Pa] laws met to this with the new fluids end the rounds
LEAK = 1e-15  # [1/Pa] flow of a shut branch per pascal, of the largest flow
COARSE = 100.0  # [-] a leak as many times larger than it need be is made smaller
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
    relaxation, swinging = Relaxation.begin(share), Swinging.begin(share, flow)
    for turn in range(ROUNDS):
        problem = pose(circuit, conditions, demand, share, flow, swinging.rests)
        state = repair(problem, find(problem, flow))
        found.iterations += state.iterations
        flow, ends = state.flow, end_share(circuit, conditions, share, len(state.flow))
        mix = mixed(circuit, flow, ends, share)
        unmet = _unmet(problem, state, share, mix, swinging.rests)
        found.flow[active], found.pressure[active] = flow, state.pressure
        found.node_share[active], found.unmet[active] = mix, unmet
        found.end_share[active] = end_share(circuit, conditions, mix, len(flow))
        left = unmet > MET
        if turn == 0:  # the leak was sized before any flow was known
            left |= problem.leak[:, 0] > COARSE * LEAK * flow_scale(flow, demand)
        if not left.any():
            break
        back = swinging.watch(problem, share, flow, turn)
        following = relaxation.next(share, mix, turn, back, swinging.even)
        halfway = 0.5 * (swinging.share + share)
        share = np.where(back[:, None], halfway, following)[left]
        conditions, demand, flow = conditions.rows(left), demand[left], swinging.flow[left]
        active, relaxation, swinging = active[left], relaxation.rows(left), swinging.rows(left)
    return found


def _unmet(problem: Problem, state: State, share: Array, mix: Array, rests: Flags) -> Array:
    """How far the laws are missed when nodes pass on `mix` instead of `share`, shape (S,) [Pa]."""
    unmet = state.unmet.copy()
    rests = rests & (state.flow == 0.0)
    low, high = standing(problem.contents, state.flow, rests)
    other = (mix != share).any(axis=1)
    other |= ((low != problem.low) | (high != problem.high)).any(axis=1)
    if other.any():
        part = problem.conditions.rows(other)
        flow = state.flow[other]
        check = pose(problem.circuit, part, problem.demand[other], mix[other], flow, rests[other])
        unmet[other] = check.missed(flow, state.pressure[other])
    return unmet


def find(problem: Problem, flow: Array) -> State:
    """Flows with the fluids given: fast, and surely where the fast way fails."""
    state = settle(problem, first_guess(problem, flow))
    failed = state.unmet > CLOSE
    if failed.any():
        some = approach(problem.rows(failed), finish=settle)
        state.put(np.flatnonzero(failed), some)
        state.iterations += some.iterations
    return state


def pose(
    circuit: Circuit,
    conditions: Conditions,
    demand: Array,
    node_share: Array,
    flow: Array,
    rests: Flags | None = None,
) -> Problem:
    """Laws of the branches when nodes pass on `node_share`.

    `flow` tells which way siphons run, `rests` (S, B) which are partly filled and at rest.
    """
    ends = end_share(circuit, conditions, node_share, len(flow))
    held = contents(circuit, conditions, ends)
    low, high = standing(held, flow, rests)
    large = len(circuit.nodes) > nodal.LARGE
    scale = flow_scale(flow, demand)[:, None]
    scale = np.where(scale > SMALL_FLOW, scale, SLOW * compile_losses(circuit).area.max())
    leak = (LEAK_LARGE if large else LEAK) * scale
    return Problem(circuit, conditions, held, low, high, demand, leak)
