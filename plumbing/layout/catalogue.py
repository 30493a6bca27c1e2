"""Tubes on the shelf, as the layout file names them: `polyurethane 6x4`, `nylon 4x2.5`."""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from plumbing.model.line import Tube
from plumbing.physics import tubes


@cache
def catalogue() -> Mapping[str, Tube]:
    """Tubes by name: material and size, outer by inner diameter in mm."""
    return MappingProxyType({name: _tube(known) for name, known in tubes.catalogue().items()})


def _tube(known: tubes.Tube) -> Tube:
    return Tube(
        name=known.name,
        outside_diameter=known.outside_diameter,
        inside_diameter=known.inside_diameter,
        material=known.material,
        bend_radius=known.bend_radius,
        hardness=known.hardness,
        max_temperature=known.max_temperature,
        rated_pressure=known.rated_pressure,
        linear_mass=known.linear_mass,
        source=known.source,
    )
