"""All single faults as one batch of scenarios through one flight."""

from __future__ import annotations

import numpy as np

from plumbing.errors import SolveError
from plumbing.frozen import frozen
from plumbing.hydraulics.compile import compile_suction
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.vents import dynamic_pressure
from plumbing.simulation.airstream import coefficients
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.moment import Balance, Balancing
from plumbing.simulation.profile import Profile
from plumbing.simulation.setup import LEVEL, folding, reference_of
from plumbing.simulation.tankage import Tankage, distinct_directions, tankage
from plumbing.studies import fault_setup as setup
from plumbing.studies.fault_laws import with_laws
from plumbing.studies.fault_list import Effect, effects
from plumbing.studies.fault_variants import OutOfReach, tank_variants
from plumbing.studies.leaky import leaky

_TOGETHER = 2000  # branches of all scenarios flown together, so that memory is bounded
_FEWEST = 16  # faults flown together all the same: each lot is flown once without a fault


@frozen(eq=False)
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
    start: Array
    beyond: OutOfReach

    def balancing(self) -> Balancing:
        """Balances, as `march` asks for them."""
        found = self.feeding.remembering(len(self.start))

        def balance(
            rows: Indices,
            stretch: Indices,
            volume: Array,
            gas: Array,
            draws: Flags | None = None,
        ) -> Balance:
            return found(rows, self._laid_out(rows, stretch), volume, gas, draws)

        return balance

    def pressures(self, found: Balance, rows: Indices, stretch: Indices) -> Array:
        """Gauge pressures at all nodes of scenarios that were balanced, shape (R, N) [Pa]."""
        return self.feeding.pressures(found, rows, self._laid_out(rows, stretch))

    def _laid_out(self, rows: Indices, stretch: Indices) -> Indices:
        return stretch + len(self.index) * self.variant[rows]


@frozen(eq=False)
class Lot:
    """Faults that are flown together, in a network that can have each of them."""

    plumbed: Plumbed
    effects: tuple[Effect, ...]

    def batch(self, layout: Layout, survey: Survey, profile: Profile) -> Batch:
        """Lay it out."""
        return _batch(layout, survey, profile, self.plumbed, self.effects)


def lots(layout: Layout, survey: Survey) -> tuple[Lot, ...]:
    """Every single fault of a layout, those with a leak apart: their network has holes.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank.
    """
    plumbed = _compiled(layout, survey)
    found = effects(layout, survey, plumbed)
    made = _lots(plumbed, [one for one in found if not one.leak])
    leaks = [one for one in found if one.leak]
    if leaks:
        joints = list(dict.fromkeys(one.leak for one in leaks))
        made += _lots(leaky(_compiled(layout, survey, frozenset(joints)), joints), leaks)
    return tuple(made)


def _lots(plumbed: Plumbed, found: list[Effect]) -> list[Lot]:
    size = max(_FEWEST, _TOGETHER // len(plumbed.circuit.branches))
    starts = range(0, max(len(found), 1), size)
    return [Lot(plumbed, tuple(found[start : start + size])) for start in starts]


def _compiled(layout: Layout, survey: Survey, joints: frozenset[str] = frozenset()) -> Plumbed:
    plumbed = compile_suction(layout, survey, reference_of(layout), filling=True, joints=joints)
    if plumbed is None or not plumbed.demands:
        raise SolveError("no pump or engine draws fuel from a tank through open lines")
    return folding(plumbed, survey.bags)


def _batch(
    layout: Layout, survey: Survey, profile: Profile, plumbed: Plumbed, found: tuple[Effect, ...]
) -> Batch:
    """Lay out some faults as a batch."""
    fluids = fluids_at(layout, np.array([layout.fuel.temperature.usual]))
    multiplier = setup.multiplier(layout, survey, plumbed, fluids, found)
    plumbed, dirt = with_laws(layout, plumbed, found, fluids, setup.dirt(plumbed, found))
    down, index = distinct_directions(np.concatenate([LEVEL, profile.gravity]))
    tanks = tankage(layout, down, moments=False, bags=survey.bags)
    ends, variant, beyond = tank_variants(layout, plumbed, tanks, found, int(index[0]))
    times = np.arange(int(variant.max()) + 1)
    feeding = Feeding(
        ends=ends,
        gravity=np.tile(profile.gravity, (len(times), 1)),
        index=np.concatenate([index[1:] + len(down) * number for number in times]),
        flow=np.tile(setup.flows(layout, survey, profile, plumbed, found), (1, len(times), 1)),
        fluids=fluids,
        stream=np.tile(dynamic_pressure(profile.airspeed), len(times)),
        coefficient=coefficients(layout, plumbed),
        blocked=setup.blocked(layout, plumbed, found),
        multiplier=multiplier,
        dirt=dirt,
        slug=setup.slug(plumbed, found),
        propped=setup.propped(plumbed, found),
    )
    return Batch(
        effects=found,
        feeding=feeding,
        tanks=tanks,
        index=index[1:],
        variant=variant,
        start=setup.start(layout, tanks, found),
        beyond=beyond,
    )
