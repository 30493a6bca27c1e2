"""The fuel in the tanks: a petroleum liquid with a share of turbine oil."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import MM2_PER_S
from plumbing.physics.fuel_density import density
from plumbing.physics.tables import rows
from plumbing.physics.viscosity import refutas, walther_fit, walther_viscosity

__all__ = [
    "Blend",
    "Liquid",
    "density",
    "liquid",
    "refutas",
    "surface_tension",
    "walther_fit",
    "walther_viscosity",
]


@frozen(kw_only=True)
class Liquid:
    """A petroleum liquid (or oil) known by its density and two viscosities.

    Attributes
    ----------
    density_15 : float
        Density at 15 degC [kg/m3].
    cold_celsius, warm_celsius : float
        Temperatures of the two viscosities [degC].
    nu_cold, nu_warm : float
        Kinematic viscosities there [m2/s].
    source : str
        Where the values are from.
    """

    density_15: float
    cold_celsius: float
    nu_cold: float
    warm_celsius: float
    nu_warm: float
    source: str = "layout file"

    def viscosity(self, celsius: ArrayLike) -> Array:
        """Kinematic viscosity [m2/s] at a temperature [degC]."""
        line = walther_fit(self.cold_celsius, self.nu_cold, self.warm_celsius, self.nu_warm)
        return walther_viscosity(celsius, *line)


@cache
def liquid(name: str) -> Liquid:
    """A usual liquid by name: `kerosene`, `diesel` or `turbine-oil`; KeyError for others."""
    for row in rows("fuels"):
        if row["name"] == name:
            return Liquid(
                density_15=float(row["density_15"]),
                cold_celsius=float(row["cold_celsius"]),
                nu_cold=float(row["cold_mm2_s"]) * MM2_PER_S,
                warm_celsius=float(row["warm_celsius"]),
                nu_warm=float(row["warm_mm2_s"]) * MM2_PER_S,
                source=row["source"],
            )
    raise KeyError(name)


@frozen(kw_only=True)
class Blend:
    """Fuel mixed with oil.

    Attributes
    ----------
    fuel, oil : Liquid
        The two liquids.
    oil_share : float
        Volume of oil over the volume of both at 15 degC [-], 0 to 1.
    """

    fuel: Liquid
    oil: Liquid
    oil_share: float = 0.0

    @property
    def oil_mass_share(self) -> float:
        """Mass of oil over the mass of both [-]."""
        return self.oil_share * self.oil.density_15 / self.density_15

    @property
    def density_15(self) -> float:
        """Density at 15 degC [kg/m3], volumes added."""
        share = self.oil_share
        return (1.0 - share) * self.fuel.density_15 + share * self.oil.density_15

    def properties(self, celsius: ArrayLike) -> tuple[Array, Array]:
        """Density and kinematic viscosity.

        Parameters
        ----------
        celsius : array_like
            Temperature [degC], any shape, above the freezing point of the fuel.

        Returns
        -------
        rho, nu : tuple of Array
            Density [kg/m3] and kinematic viscosity [m2/s], in that shape.

        References
        ----------
        ASTM D1250 for both liquids (turbine oil expands about as a heavy fuel oil, from
        memory), ASTM D341, and Refutas' rule on mass.
        """
        celsius = floats(celsius)
        mass = self.oil_mass_share
        fuel = density(celsius, self.fuel.density_15)
        oil = density(celsius, self.oil.density_15)
        rho = 1.0 / ((1.0 - mass) / fuel + mass / oil)
        nu = self.fuel.viscosity(celsius)
        return rho, refutas(nu, self.oil.viscosity(celsius), mass) if mass > 0.0 else nu


def surface_tension(celsius: ArrayLike) -> Array:
    """Surface tension of kerosene against air.

    Parameters
    ----------
    celsius : array_like
        Temperature [degC], -50 to 100.

    Returns
    -------
    Array
        Surface tension [N/m], never under 0.001.

    References
    ----------
    0.026 N/m at 20 degC from memory; slope of n-dodecane between 0 and 40 degC by its
    reference equation.
    """
    return np.maximum(0.026 - 9.2e-5 * (floats(celsius) - 20.0), 1e-3)
