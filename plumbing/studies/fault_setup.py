"""What each fault changes, as arrays over the scenarios; the first scenario has none."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags
from plumbing.simulation.demand import demands
from plumbing.simulation.profile import Profile
from plumbing.simulation.tankage import Tankage
from plumbing.studies.fault_list import Effect
from plumbing.studies.leaky import hole_at


def flows(
    layout: Layout, survey: Survey, profile: Profile, plumbed: Plumbed, found: Sequence[Effect]
) -> Array:
    """Flow of the pumps, shape (S, K, P) [m3/s]."""
    drawn = demands(layout, survey, plumbed, profile.throttle, profile.flow)
    result = np.repeat(drawn[None], len(found) + 1, axis=0)
    for number, one in enumerate(found, 1):
        for demand, factor in one.flow.items():
            result[number, :, demand] *= factor
    return result


def blocked(layout: Layout, plumbed: Plumbed, found: Sequence[Effect]) -> Flags:
    """Closed branch ends, shape (S, B, 2)."""
    shut = frozenset(name for name, valve in layout.valves.items() if valve.flight == "closed")
    result = np.repeat(plumbed.blocked(shut)[None], len(found) + 1, axis=0)
    holes = {hole_at(one.leak): one.leak for one in found if one.leak}
    result[:, [name in holes for name in plumbed.circuit.branches]] = True
    for number, one in enumerate(found, 1):
        if one.leak:
            result[number, plumbed.circuit.branches.index(hole_at(one.leak))] = False
        for branch, end in one.closed:
            result[number, branch, end] = True
        for branch, end in one.opened:
            result[number, branch, end] = False
    return result


def dirt(plumbed: Plumbed, found: Sequence[Effect]) -> Array:
    """Factor on the drop of each filter, shape (S, F)."""
    result = np.ones((len(found) + 1, len(plumbed.dirty)))
    for number, one in enumerate(found, 1):
        for place in one.dirty:
            result[number, place] = plumbed.dirty[place]
    return result


def start(layout: Layout, tanks: Tankage, found: Sequence[Effect]) -> Array:
    """Fuel in each tank at the start, shape (S, T) [m3]."""
    full = np.array([tank.fuel for tank in layout.tanks.values()]) * tanks.capacity
    result = np.repeat(full[None], len(found) + 1, axis=0)
    for number, one in enumerate(found, 1):
        for tank, share in one.start.items():
            result[number, tank] *= share
    return result


def slug(plumbed: Plumbed, found: Sequence[Effect]) -> Array:
    """Height of the fuel that stands in each branch, for either end, shape (S, B, 2) [m]."""
    result = np.zeros((len(found) + 1, len(plumbed.circuit.branches), 2))
    for number, one in enumerate(found, 1):
        for line, height in one.slug.items():
            result[number, plumbed.line_branch[line][0]] = height
    return result


def propped(plumbed: Plumbed, found: Sequence[Effect]) -> Flags:
    """Branch ends at which a check valve stands open, shape (S, B, 2)."""
    result = np.zeros((len(found) + 1, len(plumbed.circuit.branches), 2), dtype=bool)
    for number, one in enumerate(found, 1):
        for branch, end in one.opened:
            result[number, branch, end] = True
    return result
