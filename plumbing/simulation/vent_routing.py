"""Vents as they are routed: high and low points, fuel in a low point, pressure at the outlets."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from plumbing.findings import Figure
from plumbing.geometry.attitude import gravity_body
from plumbing.geometry.humps import extrema
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout
from plumbing.model.parts import Outlet
from plumbing.network import Survey
from plumbing.network.vent_ways import VentWay, vent_ways
from plumbing.physics.arrays import Array, Flags
from plumbing.physics.constants import GRAVITY
from plumbing.physics.vents import outlet_pressure
from plumbing.simulation.airstream import coefficient_of
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.profile import Profile
from plumbing.simulation.vents_result import OutletPressure, Uneven, VentRouted, Vents

_UPRIGHT = 0.5  # cosine to straight down from which a flown attitude counts as upright
_LEAST = 1.0  # difference of pressure that counts [Pa]


def vents_of(layout: Layout, survey: Survey, profile: Profile) -> Vents:
    """Look at every vent of a layout.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    profile : Profile
        Flight whose load factors are looked at.
    """
    speeds = [layout.aircraft.max_airspeed, float(profile.airspeed.max(initial=0.0))]
    airspeed = max(speed for speed in speeds if speed is not None)
    pressures = [
        found for outlet in layout.outlets.values() if (found := _pressure(outlet, airspeed))
    ]
    known = {one.outlet for one in pressures}
    return Vents(
        airspeed=airspeed,
        ways=tuple(_routed(layout, profile, way) for way in vent_ways(survey.network)),
        pressures=tuple(pressures),
        unknown=tuple(name for name in layout.outlets if name not in known),
        uneven=tuple(_uneven(survey, pressures)),
    )


def _routed(layout: Layout, profile: Profile, way: VentWay) -> VentRouted:
    names = ["level", *layout.parking]
    attitudes = [(0.0, 0.0), *((one.pitch, one.roll) for one in layout.parking.values())]
    down = gravity_body([a for a, _ in attitudes], [b for _, b in attitudes]) / GRAVITY
    standing = extrema(way.points, -down)
    sags = np.where(standing.low, standing.sag, 0.0)
    density = float(fluids_at(layout, np.array([layout.fuel.temperature.usual])).liquid_density[0])
    slug, when = _slug(layout, profile, way, density)
    deepest = np.unravel_index(int(sags.argmax()), sags.shape)
    return VentRouted(
        tank=way.tank.name,
        outlet=way.outlet.name,
        lines=way.lines,
        bore=way.bore,
        highs=_points(way, standing.high[0]),
        lows=_points(way, standing.low[0]),
        sags=dict(zip(names, sags.max(axis=1).tolist(), strict=True)),
        low_at=_point(way.points[deepest[1]]) if sags[deepest] > 0.0 else None,
        slug=slug,
        slug_when=when,
        slug_level=density * GRAVITY * float(sags[0].max(initial=0.0)),
    )


def _slug(layout: Layout, profile: Profile, way: VentWay, density: float) -> tuple[float, str]:
    """Largest suction of a slug in flight [Pa], upright only, and when."""
    size = np.linalg.norm(profile.gravity, axis=1)
    upright = -profile.gravity[:, 2] > _UPRIGHT * np.maximum(size, 1e-9)
    flown = profile.gravity[upright]
    phases = [name for name, kept in zip(profile.phase, upright, strict=True) if kept]
    pull = layout.aircraft.load_factors.positive
    gravity = np.concatenate([flown, [[0.0, 0.0, -pull * GRAVITY]]])
    phases.append(f"pulling {pull:.3g} g")
    size = np.linalg.norm(gravity, axis=1)
    suction = density * size * extrema(way.points, -gravity / size[:, None]).deepest_sag
    worst = int(suction.argmax())
    return float(suction[worst]), phases[worst] if suction[worst] > 0.0 else ""


def _points(way: VentWay, chosen: Flags) -> tuple[Vector, ...]:
    return tuple(_point(point) for point in way.points[chosen])


def _point(point: Array) -> Vector:
    x, y, z = point.tolist()
    return x, y, z


def _pressure(outlet: Outlet, airspeed: float) -> OutletPressure | None:
    """Pressure at an outlet; None where neither facing nor coefficient is stated."""
    stated = outlet.pressure_coefficient is not None
    if not stated and outlet.facing is None:
        return None
    band = coefficient_of(outlet)
    likely, low, high = (float(outlet_pressure(airspeed, one)) for one in band)
    return OutletPressure(outlet.name, Figure(likely, "pressure", low, high), stated)


def _uneven(survey: Survey, pressures: list[OutletPressure]) -> list[Uneven]:
    """Pairs of outlets that hang together over fuel or air."""
    found = []
    for one, other in combinations(pressures, 2):
        if not _together(survey, one.outlet, other.outlet):
            continue
        high, low = sorted((one, other), key=lambda p: p.pressure.value, reverse=True)
        difference = _difference(high.pressure, low.pressure)
        if (difference.high or difference.value) >= _LEAST:
            found.append(Uneven((high.outlet, low.outlet), difference))
    return found


def _difference(high: Figure, low: Figure) -> Figure:
    most = max((high.high or 0.0) - (low.low or 0.0), (low.high or 0.0) - (high.low or 0.0))
    least = max((high.low or 0.0) - (low.high or 0.0), 0.0)
    return Figure(high.value - low.value, "pressure", least, most)


def _together(survey: Survey, one: str, other: str) -> bool:
    return any(one in island.parts and other in island.parts for island in survey.islands)
