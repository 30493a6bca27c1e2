"""Tanks feed side by side into a tee, and a dry pickup lets the tee draw air.

Why: Air flows far more easily than fuel: once one tank is dry the tee takes air from it, and the
other tank keeps its fuel.
Cure: Put the tanks in series, or fit pickups with pores fine enough to hold air back when dry.

Over: teed-pair

Bad::

    tanks:
      port: {ports: {feed: {pickup: {kind: clunk}}}}
      starboard: {ports: {feed: {pickup: {kind: clunk}}}}

Good::

    tanks:
      port: {ports: {feed: {pickup: {kind: fine-pore, pore: 20 um}}}}
      starboard: {ports: {feed: {pickup: {kind: fine-pore, pore: 20 um}}}}
"""

from itertools import permutations

import numpy as np

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.checks.words import listed, subject
from plumbing.network.chains import Teed
from plumbing.physics.pickups import bubble_point
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.tee_legs import Leg, drop, head, legs, pickup_of

SEVERITY = Severity.UNSAFE
SOURCE = "common practice; bubble point by Young-Laplace"

_BALANCE_BORE = 8e-3  # balance line that levels two tanks by itself [m]; common practice, 150 N


def find(case: Case, limit: float) -> Says:
    for teed in case.survey.teed:
        if teed.balanced:
            yield from _balance(case, teed)
        elif teed.fine_pore:
            yield from _pores(case, teed, legs(case.survey, teed))
        else:
            yield Found(
                teed.tees[0] if teed.tees else teed.tanks[0],
                f"Tanks {listed(teed.tanks)} feed side by side and not every pickup holds back "
                "air: the first tank to run dry strands the fuel of the others.",
                parts=teed.tanks,
            )


def _balance(case: Case, teed: Teed) -> Says:
    """The line that joins the tanks must be wide enough to level them."""
    uses = [use for use in case.survey.lines.values() if use.role == "balance"]
    for use in uses:
        bore = case.layout.tube_of(case.layout.lines[use.line]).inside_diameter
        if bore < _BALANCE_BORE:
            yield Found(
                use.line,
                f"{subject('balance line', use.line)} between {listed(teed.tanks)} has "
                f"{units.show(bore, 'length')} bore; {units.show(_BALANCE_BORE, 'length')} levels "
                "tanks fast enough.",
                Figure(bore, "length"),
                Figure(_BALANCE_BORE, "length"),
                field="tube",
                parts=teed.tanks,
            )


def _pores(case: Case, teed: Teed, branches: tuple[Leg, ...]) -> Says:
    """Each dry pickup must hold against the drop of each wet branch and the fuel between them."""
    fuel = case.layout.fuel.temperature
    flow = sum(
        peak.flow
        for engine, peak in case.peak.engines.items()
        if set(teed.tanks) & set(case.survey.tanks_feeding(engine))
    )
    for dry in branches:
        pickup = pickup_of(case.survey, dry)
        if pickup is None or pickup.pore is None:
            yield Lacking(f"tanks.{dry.tank}.ports.{dry.port}.pickup.pore", dry.tank)
    worst: dict[str, tuple[float, float, str]] = {}
    celsius = np.array([fuel.coldest, fuel.usual, fuel.hottest])
    liquid = fluids_at(case.layout, celsius)
    states = zip(
        liquid.liquid_density.tolist(),
        liquid.liquid_viscosity.tolist(),
        liquid.surface_tension.tolist(),
        strict=True,
    )
    for rho, mu, tension in states:
        for dry, wet in permutations(branches, 2):
            pickup = pickup_of(case.survey, dry)
            if pickup is None or pickup.pore is None:
                continue
            pull = drop(case.survey, wet, flow, rho, mu) + head(case.survey, dry, wet, rho)
            holds = float(bubble_point(tension, pickup.pore))
            known = worst.get(dry.tank)
            if known is None or pull - holds > known[0] - known[1]:
                worst[dry.tank] = pull, holds, wet.tank
    for dry in branches:
        if dry.tank in worst and worst[dry.tank][0] > worst[dry.tank][1]:
            yield _breaks(dry, *worst[dry.tank])


def _breaks(dry: Leg, pull: float, holds: float, wet: str) -> Found:
    return Found(
        dry.tank,
        f"The pickup at {dry.reference} holds back air up to {units.show(holds, 'pressure')}; dry, "
        f"it is pulled with {units.show(pull, 'pressure')} while {wet} feeds.",
        Figure(pull, "pressure"),
        Figure(holds, "pressure"),
        field="ports",
        parts=(wet,),
    )
