"""Pressure the airstream puts on the outlets in flight."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing import units
from plumbing.findings import Assumption
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.model.layout import Layout, split_port
from plumbing.model.parts import Outlet
from plumbing.physics.arrays import Array
from plumbing.physics.vents import facing_coefficient
from plumbing.simulation.profile import Profile

CRUISE = 0.6  # share of its highest airspeed at which an aircraft mostly flies; common practice


def coefficient_of(outlet: Outlet) -> tuple[float, float, float]:
    """Pressure coefficient of an outlet: likely, low and high [-].

    The stated one, else the usual one of the way it looks, else any of those.
    """
    if outlet.pressure_coefficient is not None:
        return (outlet.pressure_coefficient,) * 3
    return facing_coefficient(outlet.facing or "unstated")


def coefficients(layout: Layout, plumbed: Plumbed, of_outlet: Array | None = None) -> Array:
    """Pressure coefficient at every node of a circuit.

    Parameters
    ----------
    layout : Layout
        The layout, with O outlets.
    plumbed : Plumbed
        Its circuit with N nodes.
    of_outlet : Array, optional
        Coefficients to be taken, shape (S, O) [-]; the likely ones by default.

    Returns
    -------
    Array
        Shape (S, N) [-], 0 but at the outlets; S is 1 by default.
    """
    if of_outlet is None:
        likely = [coefficient_of(outlet)[0] for outlet in layout.outlets.values()]
        of_outlet = np.array(likely, float)[None]
    names = list(layout.outlets)
    result = np.zeros((len(of_outlet), len(plumbed.circuit.nodes)))
    for opening, node in zip(plumbed.outlets, plumbed.outlet_node, strict=True):
        part, _ = split_port(opening)
        if part in layout.outlets:
            result[:, node] = of_outlet[:, names.index(part)]
    return result


def with_airspeed(layout: Layout, profile: Profile) -> Profile:
    """The same with a usual airspeed in airborne stretches that state none, and that listed."""
    unsaid = profile.airborne & (profile.airspeed <= 0.0)
    if not unsaid.any():
        return profile
    speed = CRUISE * layout.aircraft.max_airspeed
    words = f"{units.show(speed, 'speed')} where not stated"
    source = f"{CRUISE:.0%} of the highest airspeed, common practice"
    return replace(
        profile,
        airspeed=np.where(unsaid, speed, profile.airspeed),
        assumptions=(*profile.assumptions, Assumption("flight: airspeed", words, source)),
    )
