"""Tubes on the shelf, metric and inch."""

import math
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from plumbing.frozen import frozen
from plumbing.physics.materials import materials
from plumbing.physics.tables import number, rows

_MM, _BAR = 1e-3, 1e5


@frozen(kw_only=True)
class Tube:
    """One tube; lengths in metres.

    Attributes
    ----------
    name : str
        Material and size, as in ``polyurethane 6x4``: outer by inner diameter in mm.
    material : str
        As in the table of materials.
    outside_diameter, inside_diameter : float
        [m].
    bend_radius : float
        Smallest bend radius, to the centre line [m].
    outside_plus, outside_minus : float
        Tolerance of the outer diameter, up and down [m].
    hardness : float or None
        Shore A, 100 for what is harder than that scale [-]; none for metal.
    max_temperature : float
        Highest service temperature [degC].
    rated_pressure : float
        Rated pressure at room temperature [Pa].
    source : str
        Where the values are from.
    """

    name: str
    material: str
    outside_diameter: float
    inside_diameter: float
    bend_radius: float
    outside_plus: float
    outside_minus: float
    hardness: float | None
    max_temperature: float
    rated_pressure: float
    source: str

    @property
    def wall(self) -> float:
        """Wall thickness [m]."""
        return 0.5 * (self.outside_diameter - self.inside_diameter)

    @property
    def linear_mass(self) -> float:
        """Mass of the empty tube per length [kg/m]."""
        ring = 0.25 * math.pi * (self.outside_diameter**2 - self.inside_diameter**2)
        return ring * materials()[self.material].density


@cache
def catalogue() -> Mapping[str, Tube]:
    """All tubes by name."""
    return MappingProxyType({row["name"]: _tube(row) for row in rows("tubes")})


def _tube(row: Mapping[str, str]) -> Tube:
    return Tube(
        name=row["name"],
        material=row["material"],
        outside_diameter=float(row["outside_mm"]) * _MM,
        inside_diameter=float(row["inside_mm"]) * _MM,
        bend_radius=float(row["bend_radius_mm"]) * _MM,
        outside_plus=float(row["outside_plus_mm"]) * _MM,
        outside_minus=float(row["outside_minus_mm"]) * _MM,
        hardness=number(row["hardness_shore_a"]),
        max_temperature=float(row["max_celsius"]),
        rated_pressure=float(row["rated_bar"]) * _BAR,
        source=row["source"],
    )
