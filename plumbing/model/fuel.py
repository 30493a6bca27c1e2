"""The fuel in the tanks and the temperatures it is used at."""

from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Written
from plumbing.model.fields import Density, Share, Temperature, Usual, Viscosity


@frozen(kw_only=True)
class ViscosityPoint(Written):
    """A measured kinematic viscosity."""

    at: Annotated[Temperature, "temperature of the measurement"]
    value: Annotated[Viscosity, "kinematic viscosity"]


@frozen(kw_only=True)
class TemperatureRange(Written):
    """Fuel temperatures the aircraft is used at."""

    coldest: Annotated[Temperature, "coldest fuel", Usual("-5 degC")] = -5.0
    usual: Annotated[Temperature, "fuel on an ordinary day", Usual("20 degC")] = 20.0
    hottest: Annotated[Temperature, "hottest fuel", Usual("40 degC")] = 40.0


@frozen(kw_only=True)
class Fuel(Written):
    """Fuel and oil."""

    kind: Annotated[Literal["kerosene", "diesel", "own"], "base fuel", Usual("kerosene")] = (
        "kerosene"
    )
    density_15: Annotated[Density | None, "density at 15 degC, without the oil"] = None
    viscosity: Annotated[
        tuple[ViscosityPoint, ...], "two measured points; needed for a fuel of your own"
    ] = ()
    oil: Annotated[Share, "oil by volume", Usual("5 %")] = 0.05
    oil_density: Annotated[Density | None, "density of the oil at 15 degC"] = None
    oil_viscosity: Annotated[tuple[ViscosityPoint, ...], "two measured points of the oil"] = ()
    temperature: Annotated[TemperatureRange, "fuel temperatures in use"] = TemperatureRange()
