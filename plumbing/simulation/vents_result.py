"""What comes out of looking at the vents. Plain values in SI."""

from __future__ import annotations

from collections.abc import Mapping

from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.model.fields import Vector


@frozen
class VentRouted:
    """One way from a tank to an outlet.

    Attributes
    ----------
    tank, outlet : str
        Where it begins and ends.
    lines : tuple of str
        Lines passed.
    bore : float
        Narrowest bore [m].
    highs, lows : tuple of point
        Inner high and low points, aircraft level [m].
    sags : mapping of str to float
        Depth of the deepest low point, level, parked and in transport, by attitude [m].
    low_at : point or None
        Where the deepest of these low points is [m].
    slug : float
        Suction it takes in flight to draw air past fuel in the deepest low point [Pa].
    slug_when : str
        When that is, in words.
    slug_level : float
        The same in level flight [Pa].
    """

    tank: str
    outlet: str
    lines: tuple[str, ...]
    bore: float
    highs: tuple[Vector, ...]
    lows: tuple[Vector, ...]
    sags: Mapping[str, float]
    low_at: Vector | None
    slug: float
    slug_when: str
    slug_level: float


@frozen
class OutletPressure:
    """Pressure of the airstream at one outlet.

    Attributes
    ----------
    outlet : str
        Name.
    pressure : Figure
        Gauge pressure at the highest airspeed, with its band [Pa].
    stated : bool
        Whether the layout states the pressure coefficient.
    """

    outlet: str
    pressure: Figure
    stated: bool


@frozen
class Uneven:
    """Two outlets of one system at unequal pressure.

    Attributes
    ----------
    outlets : (str, str)
        The one at the higher pressure first.
    difference : Figure
        Difference of their pressures, with its band [Pa].
    """

    outlets: tuple[str, str]
    difference: Figure


@frozen
class Vents:
    """All vents of a layout.

    Attributes
    ----------
    airspeed : float
        Highest airspeed [m/s].
    ways : tuple of VentRouted
        Every way from a tank to an outlet.
    pressures : tuple of OutletPressure
        Outlets whose facing or coefficient is stated.
    unknown : tuple of str
        Outlets that state neither.
    uneven : tuple of Uneven
        Pairs of outlets of one system that differ.
    """

    airspeed: float
    ways: tuple[VentRouted, ...]
    pressures: tuple[OutletPressure, ...]
    unknown: tuple[str, ...]
    uneven: tuple[Uneven, ...]
