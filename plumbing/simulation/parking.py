"""An aircraft left standing with fuel: every stated attitude, and those around level."""

from __future__ import annotations

import math

import numpy as np

from plumbing.geometry.attitude import gravity_body
from plumbing.model.ground import Parking
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.network.vent_ways import VentWay, vent_ways
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.results import NotComputed, Results
from plumbing.simulation.flight import profile_for
from plumbing.simulation.parking_engines import engines_parked, shut, surfaces
from plumbing.simulation.parking_ground import Ground, ground
from plumbing.simulation.parking_heat import warmed
from plumbing.simulation.parking_moving import moved
from plumbing.simulation.parking_result import Around, Parked, Parkings
from plumbing.simulation.parking_vents import outlets_parked, standing
from plumbing.simulation.vent_routing import vents_of

_SWEEP = np.radians([-15.0, -10.0, -5.0, 0.0, 5.0, 10.0, 15.0])
_LEAST = 1e-7  # a tenth of a millilitre [m3]


def park(layout: Layout, survey: Survey) -> Parkings:
    """Leave the layout standing in every stated attitude, and around level.

    Parameters
    ----------
    layout, survey
        The layout and its survey.

    Raises
    ------
    SolveError
        No line joins a tank to anything.
    """
    stated = list(layout.parking.values())
    pitch, roll = np.meshgrid(_SWEEP, _SWEEP, indexing="ij")
    gravity = np.concatenate(
        [
            gravity_body([one.pitch for one in stated], [one.roll for one in stated]).reshape(
                -1, 3
            ),
            gravity_body(pitch.ravel(), roll.ravel()),
        ]
    )
    grounded = ground(layout, survey, gravity, layout.fuel.temperature.usual)
    ways = [
        way
        for way in vent_ways(survey.network)
        if way.lines and grounded.node(f"{way.outlet.name}.tube") >= 0
    ]
    full = np.array([tank.fill for tank in layout.tanks.values()]) * grounded.tanks.capacity
    attitudes = _stated(layout, survey, grounded, ways, full) if stated else {}
    rest = np.arange(len(stated), len(gravity))
    around = _around(layout, grounded, ways, full, rest)
    nothing = NotComputed("parking", "the layout states no attitude under parking", asked=False)
    vents = vents_of(layout, survey, profile_for(layout))
    return Parkings(Results(attitudes, nothing), around, vents)


def _stated(
    layout: Layout, survey: Survey, grounded: Ground, ways: list[VentWay], full: Array
) -> dict[str, Parked]:
    stated = list(layout.parking.values())
    volume = np.array([one.fuel for one in stated])[:, None] * full
    blocked = np.stack([_blocked(layout, grounded, ways, one) for one in stated])
    capped = np.array([one.capped for one in stated])
    outlets = outlets_parked(grounded, ways, volume, blocked, capped)
    duration = np.array([one.duration for one in stated])
    gained, spilt = moved(grounded, ways, volume, blocked, duration)
    names = list(layout.tanks)
    found = {}
    for number, one in enumerate(stated):
        held = volume[number]
        hottest = one.hottest if one.hottest is not None else layout.fuel.temperature.hottest
        gains = zip(names, gained[number].tolist(), strict=True)
        found[one.name] = Parked(
            name=one.name,
            kind=one.kind,
            pitch=one.pitch,
            roll=one.roll,
            duration=one.duration,
            fuel=dict(zip(names, held.tolist(), strict=True)),
            capped=one.capped,
            outlets=outlets[number],
            moved={name: gain for name, gain in gains if abs(gain) > _LEAST},
            spilt=float(spilt[number]),
            engines=engines_parked(layout, survey, grounded, held, number, one),
            warmed=warmed(layout, grounded, ways, held, number, hottest),
        )
    return found


def _blocked(layout: Layout, grounded: Ground, ways: list[VentWay], parking: Parking) -> Flags:
    """Ends closed while parked like that, shape (B, 2)."""
    plumbed = grounded.plumbed
    closed = frozenset(n for n, valve in layout.valves.items() if shut(valve, parking))
    blocked = plumbed.blocked(closed)
    if parking.capped:
        for way in ways:
            for line in way.lines[-1:]:
                blocked[plumbed.line_branch[line][0]] = True
    return blocked


def _around(
    layout: Layout, grounded: Ground, ways: list[VentWay], full: Array, attitude: Indices
) -> Around:
    """Losses and heads around level, from the geometry alone."""
    volume = np.repeat(full[None], len(attitude), axis=0)
    shape = (len(_SWEEP), len(_SWEEP))
    loss, runs = np.zeros(len(attitude)), np.zeros(len(attitude))
    for way in ways:
        one = standing(grounded, way, volume, attitude)
        lost = np.where(one.can_run, one.loss, 0.0)
        loss = np.maximum(loss, lost)
        runs = np.maximum(runs, np.where(one.rise <= 0.0, lost, 0.0))
    levels = surfaces(grounded, volume, attitude).max(axis=1)
    down = grounded.down()[attitude]
    engines = [-down @ np.array(engine.at) for engine in layout.engines.values()]
    lowest = np.min(engines, axis=0) if engines else np.full(len(attitude), math.inf)
    head = np.where(np.isfinite(lowest), levels - lowest, 0.0)
    return Around(
        pitch=_SWEEP,
        roll=_SWEEP,
        loss=loss.reshape(shape),
        runs=runs.reshape(shape),
        head=head.reshape(shape),
    )
