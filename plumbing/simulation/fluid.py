"""The fuel and the air of a layout at given temperatures."""

from __future__ import annotations

from dataclasses import replace

from plumbing.frozen import frozen
from plumbing.model.fuel import ViscosityPoint
from plumbing.model.layout import Layout
from plumbing.physics import air
from plumbing.physics.arrays import Array
from plumbing.physics.fuel import Blend, Liquid, liquid, surface_tension


@frozen(eq=False)
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


def blend_of(layout: Layout) -> Blend:
    """Fuel of a layout, with its oil."""
    fuel = layout.fuel
    kind = "kerosene" if fuel.kind == "own" else fuel.kind
    base = _measured(liquid(kind), fuel.density_15, fuel.viscosity)
    oil = _measured(liquid("turbine-oil"), fuel.oil_density, fuel.oil_viscosity)
    return Blend(fuel=base, oil=oil, oil_share=fuel.oil)


def _measured(
    usual: Liquid, density_15: float | None, points: tuple[ViscosityPoint, ...]
) -> Liquid:
    """Usual liquid with the values the layout states in place of its own."""
    if density_15 is not None:
        usual = replace(usual, density_15=density_15)
    if len(points) < 2:
        return usual
    cold, warm = sorted(points, key=lambda point: point.at)[:: len(points) - 1]
    return replace(
        usual,
        cold_celsius=cold.at,
        nu_cold=cold.value,
        warm_celsius=warm.at,
        nu_warm=warm.value,
        source="layout file",
    )


def fluids_at(layout: Layout, celsius: Array, viscosity_factor: float = 1.0) -> Fluids:
    """Fuel and air of a layout.

    Parameters
    ----------
    layout : Layout
        For the fuel.
    celsius : Array
        Temperatures, shape (S,) [degC].
    viscosity_factor : float
        Factor on the fuel's viscosity, for the band of the results.
    """
    density, kinematic = blend_of(layout).properties(celsius)
    return Fluids(
        celsius=celsius,
        liquid_density=density,
        liquid_viscosity=density * kinematic * viscosity_factor,
        gas_density=air.density(celsius),
        gas_viscosity=air.dynamic_viscosity(celsius),
        surface_tension=surface_tension(celsius),
    )
