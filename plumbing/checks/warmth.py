"""What warmth does to a closed tank."""

from plumbing.model.layout import Layout
from plumbing.model.tank import Tank
from plumbing.physics.constants import ATMOSPHERE, ZERO_CELSIUS
from plumbing.simulation.fluid import blend_of


def capped_pressure(layout: Layout, tank: Tank, share: float, celsius: float) -> float | None:
    """Pressure in a tank closed at the filling temperature and warmed.

    The fuel grows into the air, the air warms, and the wall is taken as stiff: an upper bound.

    Parameters
    ----------
    layout : Layout
        For the fuel and the temperature it is filled at.
    tank : Tank
        The tank.
    share : float
        Share of the fuel it is filled with for flight that is in it [-].
    celsius : float
        Temperature it warms to [degC].

    Returns
    -------
    float or None
        Gauge pressure [Pa]; None if the fuel alone needs more room than the tank has.
    """
    filled_at = layout.filling.temperature
    fuel = blend_of(layout)
    cold, hot = fuel.properties(filled_at)[0], fuel.properties(celsius)[0]
    fuel_before = share * tank.fill
    fuel_after = fuel_before * float(cold / hot)
    if fuel_after >= 1.0:
        return None
    warmed = (celsius + ZERO_CELSIUS) / (filled_at + ZERO_CELSIUS)
    squeezed = (1.0 - fuel_before) / (1.0 - fuel_after)
    return ATMOSPHERE * (warmed * squeezed - 1.0)
