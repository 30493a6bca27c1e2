"""The sure way to fluids and flows, for the few scenarios in which Newton's method goes astray.

Fluids follow the flows gradually, as junctions and lines fill: with the fluids held the laws never
fall, and there is one answer. From each of these Newton's method tries to get to the end at once.
Where the way of a node's fluid turns round, its next step is half as long. A siphon that is turned
round again and again by what it brings stands still, partly filled.
"""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics import junction_mixing as mixing
from plumbing.hydraulics.branch_laws import pose
from plumbing.hydraulics.interior import approach
from plumbing.hydraulics.newton import AGAIN, CLOSE, State, begin, follow, settle
from plumbing.hydraulics.problem import Problem
from plumbing.physics.arrays import Array, Flags, Indices

ROUNDS = 60  # times the fluids are worked out anew
TRIED = 8  # linear solves towards the end, from each round
LONGER = 1.2  # growth of a step that goes on the same way
CAREFUL = 6  # rounds after which a step that turns a siphon round is taken back and halved,
SHORT = 1e-3  # [-] unless it is as short as this


@dataclass(slots=True)
class _Way:
    """Where each scenario's fluids come from and go to.

    Attributes
    ----------
    share, flow : Array
        Where the last step began that was not taken back, shape (N, S) [-] and (B, S) [m3/s].
    step, way : Array
        Part of the way gone last, and that way, shape (N, S) [-].
    sense : Array
        Sign of the last flow that was not zero, shape (B, S).
    turns : Indices
        How often each branch has turned round, shape (B, S).
    """

    share: Array
    flow: Array
    step: Array
    way: Array
    sense: Array
    turns: Indices

    def rows(self, which: Flags) -> "_Way":
        return _Way(*(getattr(self, name)[..., which] for name in self.__slots__))


def fill(problem: Problem, flow: Array | None) -> State:
    """The steady state of every scenario from flows (B, S) to begin from, if any are known."""
    state = begin(problem, flow)
    result, active = state.rows(np.arange(problem.scenarios)), np.arange(problem.scenarios)
    none = np.zeros(state.flow.shape)
    whole = np.ones(state.share.shape)
    way = _Way(state.share, state.flow, whole, 0.0 * whole, none, state.turns)
    for turn in range(ROUNDS):
        held = _held(problem, state)
        back = _turned(problem, held, way, careful=turn >= CAREFUL)
        ended = follow(problem, held, TRIED)
        result.put(active, ended)
        left = ended.unmet > CLOSE
        if not left.any():
            break
        state = held.rows(np.arange(len(left)))
        state.share = _next_share(problem, held, way, back)
        state.flow = np.where(held.rests, 0.0, way.flow)
        state.shut = state.flow == 0.0
        state.unmet[:] = np.inf
        state.solves = ended.solves
        active, problem = active[left], problem.rows(left)
        state, way = state.rows(left), way.rows(left)
    return result


def _held(problem: Problem, state: State) -> State:
    """Flows with the fluids of the state: fast, and surely where the fast way fails."""
    held = settle(problem, state)
    failed = held.unmet > CLOSE
    if failed.any():
        held.put(failed, approach(problem.rows(failed), held.rows(failed)))
    return held


def _turned(problem: Problem, held: State, way: _Way, careful: bool) -> Flags:
    """Note which siphons turned round; scenarios in which the last step is taken back, (S,)."""
    siphon = pose(problem, held.share, held.flow, held.rests).siphon
    turned = siphon & (held.flow * way.sense < 0.0)
    far = np.abs(held.share - way.share).max(axis=0) > SHORT
    back = turned.any(axis=0) & far & careful
    turned &= ~back
    way.turns = way.turns + turned
    way.sense = np.where(back | (held.flow == 0.0), way.sense, np.sign(held.flow))
    way.flow = np.where(back, way.flow, held.flow)
    way.share = np.where(back, way.share, held.share)
    partly = turned & (way.turns >= AGAIN)
    held.rests |= partly
    held.flow = np.where(held.rests, 0.0, held.flow)
    held.shut |= held.rests
    held.turns = way.turns
    held.unmet = np.where(partly.any(axis=0), np.inf, held.unmet)
    return np.asarray(back)


def _next_share(problem: Problem, held: State, way: _Way, back: Flags) -> Array:
    """Share to hold next, shape (N, S)."""
    mix = mixing.arriving(problem, held.flow, held.share)
    onward = np.where(back, way.way, mix - held.share)
    turns = back | (onward * way.way < 0.0)
    way.step = np.where(turns, 0.5 * way.step, np.minimum(1.0, LONGER * way.step))
    way.way = np.where(onward != 0.0, onward, way.way)
    halfway = 0.5 * (way.share + held.share)
    return np.where(back, halfway, held.share + way.step * onward)
