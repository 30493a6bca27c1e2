"""The sure way to fluids and flows, for the few scenarios in which Newton's method goes astray.

Fluids follow the flows gradually, as junctions and lines fill: with the fluids held the laws never
fall, and there is one answer. From each of these Newton's method tries to get to the end at once.
Where the way of a node's fluid turns round, its steps are half as long from then on. A siphon that
is turned round again and again by what it brings stands still, partly filled.
"""

from dataclasses import dataclass

import numpy as np

from plumbing.hydraulics import junction_mixing as mixing
from plumbing.hydraulics.branch_laws import pose
from plumbing.hydraulics.interior import approach
from plumbing.hydraulics.newton import AGAIN, CLOSE, SETTLED, State, begin, follow, settle
from plumbing.hydraulics.problem import Problem
from plumbing.physics.arrays import Array, Flags, Indices

ROUNDS = 60  # times the fluids are worked out anew; some ten are usual


@dataclass(slots=True)
class _Way:
    """How each scenario's fluids have changed so far.

    Attributes
    ----------
    step, way : Array
        Part of the way gone last, and that way, shape (N, S) [-].
    sense : Array
        Sign of the last flow that was not zero, shape (B, S).
    turns : Indices
        How often each branch has turned round, shape (B, S).
    """

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
    way = _Way(whole, 0.0 * whole, none, state.turns)
    for _ in range(ROUNDS):
        held = _held(problem, state)
        _turned(problem, held, way)
        ended = follow(problem, held, SETTLED)
        result.put(active, ended)
        left = ended.unmet > CLOSE
        if not left.any():
            break
        state = held.rows(np.arange(len(left)))
        state.share = _next_share(problem, held, way)
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


def _turned(problem: Problem, held: State, way: _Way) -> None:
    """Note which siphons turned round, and let those rest that did so again and again."""
    siphon = pose(problem, held.share, held.flow, held.rests).siphon
    turned = siphon & (held.flow * way.sense < 0.0)
    way.turns = way.turns + turned
    way.sense = np.where(held.flow == 0.0, way.sense, np.sign(held.flow))
    partly = turned & (way.turns >= AGAIN)
    held.rests |= partly
    held.flow = np.where(held.rests, 0.0, held.flow)
    held.shut |= held.rests
    held.turns = way.turns
    held.unmet = np.where(partly.any(axis=0), np.inf, held.unmet)


def _next_share(problem: Problem, held: State, way: _Way) -> Array:
    """Share to hold next, shape (N, S)."""
    onward = mixing.arriving(problem, held.flow, held.share) - held.share
    way.step = np.where(onward * way.way < 0.0, 0.5 * way.step, way.step)
    way.way = np.where(onward != 0.0, onward, way.way)
    return np.asarray(held.share + way.step * onward)
