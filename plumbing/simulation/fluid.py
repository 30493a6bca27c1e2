"""The fuel and the air of a layout at given temperatures."""

from __future__ import annotations

from dataclasses import dataclass

from plumbing.physics.arrays import Array


@dataclass(frozen=True, slots=True, eq=False)
class Fluids:
    """Properties of fuel and air, each of shape (S,).

    Attributes
    ----------
    celsius : Array
        Temperature [degC].
    liquid_density, gas_density : Array
        [kg/m3].
    liquid_viscosity, gas_viscosity : Array
        Dynamic viscosity [Pa s].
    surface_tension : Array
        [N/m].
    """

    celsius: Array
    liquid_density: Array
    liquid_viscosity: Array
    gas_density: Array
    gas_viscosity: Array
    surface_tension: Array
