"""All single faults as one batch of scenarios through one flight."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from plumbing.errors import SolveError
from plumbing.hydraulics.along import Reference
from plumbing.hydraulics.compile import compile_suction
from plumbing.hydraulics.solution import Solution
from plumbing.hydraulics.solver import solve
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.vents import dynamic_pressure
from plumbing.simulation.airstream import coefficients
from plumbing.simulation.feeding import Feeding, Last
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.moment import Balance
from plumbing.simulation.profile import Profile
from plumbing.simulation.tankage import Tankage, distinct_directions, tankage
from plumbing.studies import fault_setup as setup
from plumbing.studies.fault_list import Effect, effects
from plumbing.studies.fault_variants import OutOfReach, tank_variants
from plumbing.studies.leaky import Leaky, air_through

_LEVEL = np.array([[0.0, 0.0, -9.80665]])
_PASSES = 2  # times a leak's air is worked out anew from its suction
_TOWARDS = 0.8  # how far towards the new value each time
_MOVED = 0.02  # share of a tank by which its level moves before that


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """S scenarios, the first without a fault, through K stretches.

    Attributes
    ----------
    effects : tuple of Effect
        Faults of scenarios 1 to S - 1.
    feeding : Feeding
        Network of all of them; the stretches are laid out once for each variant of the tanks.
    tanks : Tankage
        Tanks without a fault.
    index : Indices
        Direction of each of the K stretches, shape (K,).
    variant : Indices
        Variant of the tanks of each scenario, shape (S,).
    sites : Leaky
        Where it can leak.
    leak : Indices
        Which of them each scenario does, or -1, shape (S,).
    air : Air
        Where the leaks stand.
    last : Last
        What was found last.
    pumps : int
        Number P of demands that are pumps; the leaks follow them.
    start : Array
        Fuel in each tank at the start, shape (S, T) [m3].
    beyond : OutOfReach
        Fuel that a pickup off or stuck leaves out of reach.
    """

    effects: tuple[Effect, ...]
    feeding: Feeding
    tanks: Tankage
    index: Indices
    variant: Indices
    sites: Leaky
    leak: Indices
    air: Air
    last: Last
    pumps: int
    start: Array
    beyond: OutOfReach

    def balance(self, rows: Indices, stretch: Indices, volume: Array) -> Balance:
        """Balance of some scenarios; leaks draw air by the suction at their place."""
        at = self._laid_out(rows, stretch)
        stale = (self.leak[rows] >= 0) & self.air.stale(rows, at, volume)
        if stale.any():
            self._draw_air(rows[stale], at[stale], volume[stale])
        found = self.feeding.balance(rows, at, volume, self.last)
        pumps = slice(None, self.pumps)
        return replace(found, burnt=found.burnt[:, pumps], share=found.share[:, pumps])

    def solution(self, rows: Indices, stretch: Indices, volume: Array) -> Solution:
        """Flows and pressures of some scenarios."""
        conditions = self.feeding.conditions(rows, self._laid_out(rows, stretch), volume)
        return solve(self.feeding.plumbed.circuit, conditions)

    def _laid_out(self, rows: Indices, stretch: Indices) -> Indices:
        return stretch + len(self.index) * self.variant[rows]

    def _draw_air(self, rows: Indices, at: Indices, volume: Array) -> None:
        """Set the air each leak draws; the last value is where the next begins."""
        plumbed, which = self.feeding.plumbed, self.leak[rows]
        column, density = self.pumps + which, self.feeding.fluids.gas_density
        conditions = self.feeding.conditions(rows, at, volume)
        every, drawn = np.arange(len(rows)), -self.feeding.flow[rows, at, column]
        demand, flow = np.array(conditions.demand), self.last.flow[rows]
        for _ in range(_PASSES):
            state = solve(plumbed.circuit, replace(conditions, demand=demand), flow)
            flow = state.flow
            suction = -state.pressure[every, self.sites.point[which]]
            drawn = _TOWARDS * air_through(suction, density) + (1.0 - _TOWARDS) * drawn
            demand[every, self.sites.hole[which]] = -drawn
        self.feeding.flow[rows, :, column] = -drawn[:, None]
        self.air.note(rows, at, volume)


class Air:
    """Where the air of each leak was last worked out."""

    def __init__(self, scenarios: int, capacity: Array) -> None:
        self.capacity = capacity
        self.at = np.full(scenarios, -1, dtype=np.intp)
        self.volume = np.zeros((scenarios, len(capacity)))

    def stale(self, rows: Indices, at: Indices, volume: Array) -> Flags:
        """Scenarios in another stretch, or with other levels, than then, shape (R,)."""
        moved = np.abs(volume - self.volume[rows]) > _MOVED * self.capacity
        found: Flags = (at != self.at[rows]) | moved.any(axis=1)
        return found

    def note(self, rows: Indices, at: Indices, volume: Array) -> None:
        """Remember stretch and levels."""
        self.at[rows], self.volume[rows] = at, volume


def batch(layout: Layout, survey: Survey, profile: Profile) -> Batch:
    """Lay out every single fault of a layout as a batch.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank.
    """
    fluids = fluids_at(layout, np.array([layout.fuel.temperature.usual]))
    full = layout.full_flow
    reference = Reference(full, float(fluids.liquid_viscosity[0]))
    plumbed = compile_suction(layout, survey, reference, filling=True)
    if plumbed is None or not plumbed.demands:
        raise SolveError("no pump or engine draws fuel from a tank through open lines")
    found = effects(layout, survey, plumbed)
    sites, leak = setup.sites(plumbed, found)
    down, index = distinct_directions(np.concatenate([_LEVEL, profile.gravity]))
    tanks = tankage(layout, down, moments=False)
    ends, variant, beyond = tank_variants(
        layout, setup.with_holes(sites), tanks, found, int(index[0])
    )
    times = np.arange(int(variant.max()) + 1)
    feeding = Feeding(
        ends=ends,
        gravity=np.tile(profile.gravity, (len(times), 1)),
        index=np.concatenate([index[1:] + len(down) * number for number in times]),
        flow=np.tile(setup.flows(layout, survey, profile, sites, found), (1, len(times), 1)),
        fluids=fluids,
        stream=np.tile(dynamic_pressure(profile.airspeed), len(times)),
        coefficient=coefficients(layout, sites.plumbed),
        blocked=setup.blocked(layout, sites, found),
        multiplier=setup.multiplier(layout, sites, found, fluids, reference),
        dirt=setup.dirt(sites, found),
    )
    return Batch(
        effects=found,
        feeding=feeding,
        tanks=tanks,
        index=index[1:],
        variant=variant,
        sites=sites,
        leak=leak,
        air=Air(len(found) + 1, tanks.capacity),
        last=Last.of(sites.plumbed.circuit, len(found) + 1),
        pumps=len(plumbed.demands),
        start=setup.start(layout, tanks, found),
        beyond=beyond,
    )
