"""Peak flow in every sample: suction on the day, on a usual day, cold, loaded and dirty."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.compile import compile_suction
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.hydraulics.line_elements import Reference
from plumbing.hydraulics.solver import Solution, solve
from plumbing.hydraulics.topology import topology
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.demand import demands
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.fluid import Fluids, fluids_at
from plumbing.simulation.peak_cases import PeakCases, peak_cases
from plumbing.simulation.peak_networks import lowest_usable
from plumbing.simulation.setup import closed_while, reference_of, set_up
from plumbing.studies.spread.draws import Draws
from plumbing.studies.spread.priced import circuits, factors

_WARMTHS = 5  # temperatures of the search for the worst one, the usual one aside
_PASSES = 2  # times a network with loops is priced anew


@frozen(eq=False)
class Bench:
    """What all samples share.

    Attributes
    ----------
    layout, survey, reference
        The layout.
    plumbed : Plumbed
        Circuit as drawn, B branches.
    cases : PeakCases
        C cases; the last is 1 g, clean, at the sample's own temperature.
    """

    layout: Layout
    survey: Survey
    reference: Reference
    plumbed: Plumbed
    cases: PeakCases


@frozen(eq=False)
class Steady:
    """Peak flow of N samples.

    Attributes
    ----------
    suction : Array
        At each demand in each case, shape (N, C, P) [Pa].
    solved : Flags
        Whether every case of a sample has an answer at that demand, shape (N, P).
    factor : Array
        Factor on the loss of each branch on the sample's day, shape (N, B) [-].
    """

    suction: Array
    solved: Flags
    factor: Array


def bench(layout: Layout, survey: Survey) -> Bench | None:
    """Set the network up; None where nothing draws fuel from a tank."""
    reference = reference_of(layout)
    plumbed = compile_suction(layout, survey, reference)
    if plumbed is None or not plumbed.demands:
        return None
    return Bench(layout, survey, reference, plumbed, _cases(layout))


def _cases(layout: Layout) -> PeakCases:
    whole = peak_cases(layout.aircraft, layout.fuel.temperature)
    sweep = whole.celsius[whole.where(0)[1:]]
    few = sweep[np.linspace(0, len(sweep) - 1, _WARMTHS).astype(int)]
    first = whole.where(0)[0]
    kept = np.isin(whole.celsius, few) & ~(whole.dirty & (whole.load > 0))
    at = np.concatenate([[first], np.flatnonzero(kept), [first]])
    return replace(
        whole,
        celsius=whole.celsius[at],
        load=whole.load[at],
        gravity=whole.gravity[at],
        dirty=whole.dirty[at],
    )


def fluids_of(layout: Layout, celsius: Array, viscosity: Array, pore: Array) -> Fluids:
    """Fuel with a factor on its viscosity; smaller pores hold as a higher tension would."""
    fluids = fluids_at(layout, celsius)
    return replace(
        fluids,
        liquid_viscosity=fluids.liquid_viscosity * viscosity,
        surface_tension=fluids.surface_tension / pore,
    )


def steady(made: Bench, draws: Draws, own: list[Circuit] | None = None) -> Steady:
    """Solve all cases of all samples at once, with the circuit of each where it is given."""
    count, cases = len(draws.bore), len(made.cases.celsius)
    feeding = _feeding(made, draws)
    rows, at = np.arange(count * cases), np.tile(np.arange(cases), count)
    volume = lowest_usable(made.layout, made.survey, feeding.tanks, feeding.index)
    conditions = feeding.conditions(rows, at, volume[at])
    own = own or circuits(made.layout, made.survey, made.reference, made.plumbed, draws)
    solved, factor = _priced(made, own, conditions)
    node = made.plumbed.demand_node
    good = np.repeat(solved.converged[:, None], len(node), axis=1)
    by_sample = (count, cases, -1)
    return Steady(
        suction=-solved.pressure[:, node].reshape(by_sample),
        solved=np.asarray(good.reshape(by_sample).all(axis=1)),
        factor=factor.reshape(by_sample)[:, -1],
    )


def _priced(made: Bench, own: list[Circuit], conditions: Conditions) -> tuple[Solution, Array]:
    circuit = made.plumbed.circuit
    solved = solve(circuit, conditions)
    passes = 1 if topology(circuit).paths is not None else _PASSES
    for _ in range(passes):
        factor = factors(circuit, own, conditions, solved)
        solved = solve(circuit, replace(conditions, multiplier=factor), solved.flow)
    return solved, factor


def _feeding(made: Bench, draws: Draws) -> Feeding:
    layout, plumbed, cases = made.layout, made.plumbed, made.cases
    count, each = len(draws.bore), len(cases.celsius)
    celsius = np.tile(cases.celsius, (count, 1))
    celsius[:, -1] = draws.celsius
    full = demands(layout, made.survey, plumbed, np.ones(each))
    dirt = np.where(cases.dirty[:, None], plumbed.dirty, 1.0)
    return replace(
        set_up(
            layout,
            made.survey,
            cases.gravity,
            closed=closed_while(layout, "flight"),
            centres=False,
        ),
        flow=np.repeat(draws.flow, each)[:, None, None] * full,
        fluids=fluids_of(
            layout,
            celsius.ravel(),
            np.repeat(draws.viscosity, each),
            np.repeat(draws.pore, each),
        ),
        dirt=np.tile(dirt, (count, 1)),
        raised=np.repeat(draws.raised, each, axis=0),
    )


def worst(suction: Array, among: Indices) -> Array:
    """Highest suction over some cases, shape (N,), of suctions (N, C) [Pa]."""
    return np.asarray(suction[:, among].max(axis=1))


def places(cases: PeakCases) -> dict[str, Indices]:
    """Cases of each finding."""
    last = len(cases.celsius) - 1
    level, loaded = cases.where(0), cases.where()
    return {
        "day": np.array([last]),
        "inlet-suction-too-high": np.array([0]),
        "cold-suction-too-high": level[level < last],
        "loaded-suction-too-high": loaded[loaded < last],
        "dirty-suction-too-high": cases.where(0, dirty=True),
    }


__all__ = ["Bench", "Steady", "bench", "fluids_of", "places", "steady", "worst"]
