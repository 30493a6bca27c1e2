"""Losses where the bore changes suddenly, as at barbs and nipples, at low Reynolds numbers too.

All coefficients are on the dynamic pressure in the small bore. Hooper's laminar and turbulent
laws do not meet: read as they stand, the drop would fall as the flow grows past the change. Here
the laminar drop is held (growing as flow to the 0.1) until the turbulent law overtakes it, so the
loss is continuous and always grows with the flow. Away from that stretch both laws are Hooper's.
"""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.friction import churchill, reynolds

_SLOWEST = 1e-6
_CONTRACTION_LIMIT = 2500.0  # [-] in the large bore
_EXPANSION_LIMIT = 4000.0  # [-] in the small bore
_HOLD = 1.9  # the held coefficient falls with this power of the Reynolds number


def contraction(
    reynolds_small: ArrayLike, beta: ArrayLike, friction: ArrayLike | None = None
) -> Array:
    """Loss coefficient of a sharp contraction.

    Parameters
    ----------
    reynolds_small : array_like
        Reynolds number in the small bore [-]; held at 1e-6 below it.
    beta : array_like
        Small bore over large bore [-], 0 to 1.
    friction : array_like, optional
        Darcy factor in the large bore [-]; of a smooth wall by Churchill unless given.

    Returns
    -------
    Array
        Loss coefficient [-].

    References
    ----------
    W. B. Hooper, Chemical Engineering, 7 November 1988, 89.
    """
    return _contraction(floats(reynolds_small), _ratio(beta), friction)[0]


def expansion(
    reynolds_small: ArrayLike, beta: ArrayLike, friction: ArrayLike | None = None
) -> Array:
    """Loss coefficient of a sharp expansion [-]; the friction factor is that of the small bore.

    Parameters, result and reference otherwise as for `contraction`.
    """
    return _expansion(floats(reynolds_small), _ratio(beta), friction)[0]


def contraction_turbulent(beta: ArrayLike) -> Array:
    """Loss coefficient of a sharp contraction in turbulent flow [-]; bore ratio [-].

    References
    ----------
    Rennels and Hudson, Pipe Flow, 2012.
    """
    beta = _ratio(beta)
    jet = 1.0 + 0.622 * (1.0 - 0.215 * beta**2 - 0.785 * beta**5)
    return 0.0696 * (1.0 - beta**5) * jet**2 + (jet - 1.0) ** 2


def expansion_turbulent(beta: ArrayLike) -> Array:
    """Loss coefficient of a sharp expansion in turbulent flow [-]; bore ratio [-]. Borda."""
    return (1.0 - _ratio(beta) ** 2) ** 2


def change_loss(
    flow: ArrayLike,
    bore_before: ArrayLike,
    bore_after: ArrayLike,
    density: ArrayLike,
    viscosity: ArrayLike,
) -> tuple[Array, Array]:
    """Total pressure lost where a bore changes, and its slope.

    Parameters
    ----------
    flow : array_like
        Volume flow, positive from the bore before to the bore after [m3/s].
    bore_before, bore_after : array_like
        Inner diameters, above 0 [m].
    density, viscosity : array_like
        Density [kg/m3] and dynamic viscosity [Pa s].

    Returns
    -------
    drop, slope : tuple of Array
        Pressure lost [Pa], of the sign of the flow, and its derivative [Pa s/m3], never
        negative. A change taken backwards is the other kind of change.
    """
    flow = floats(flow)
    before, after = floats(bore_before), floats(bore_after)
    small = np.minimum(before, after)
    beta = _ratio(small / np.maximum(before, after))
    number = reynolds(flow, small, density, viscosity)
    narrowing = (before > after) == (flow >= 0.0)
    inward, inward_power = _contraction(number, beta, None)
    outward, outward_power = _expansion(number, beta, None)
    number = np.maximum(number, _SLOWEST)  # keeps K Re finite where K is a constant over Re
    each = (
        0.5
        * np.where(narrowing, inward, outward)
        * number
        * (4.0 / np.pi * floats(viscosity) / small**3)
    )
    return each * flow, each * (2.0 + np.where(narrowing, inward_power, outward_power))


def _contraction(number: Array, beta: Array, friction: ArrayLike | None) -> tuple[Array, Array]:
    """Coefficient, and d ln K / d ln Re."""
    large = floats(np.maximum(number * beta, _SLOWEST))
    factor = churchill(large) if friction is None else floats(friction)
    narrowing = 1.0 - beta**4
    turbulent = (0.6 + 0.48 * factor) * (1.0 - beta**2)
    laminar = (1.2 + 160.0 / np.minimum(large, _CONTRACTION_LIMIT)) * narrowing
    power = np.where(large < _CONTRACTION_LIMIT, -160.0 / (160.0 + 1.2 * large), 0.0)
    return _held(laminar, turbulent, power, large / _CONTRACTION_LIMIT)


def _expansion(number: Array, beta: Array, friction: ArrayLike | None) -> tuple[Array, Array]:
    """Coefficient, and d ln K / d ln Re."""
    factor = churchill(number) if friction is None else floats(friction)
    turbulent = (1.0 + 0.8 * factor) * (1.0 - beta**2) ** 2
    laminar = 2.0 * (1.0 - beta**4)
    return _held(laminar, turbulent, np.zeros(()), number / _EXPANSION_LIMIT)


def _held(laminar: Array, turbulent: Array, power: Array, past: Array) -> tuple[Array, Array]:
    """Laminar law below its limit (`past` under 1), then held until the turbulent law is more."""
    beyond = past > 1.0
    held = laminar * np.maximum(past, 1.0) ** -_HOLD
    rules = beyond & (turbulent > held)
    exponent = np.where(rules, 0.0, np.where(beyond, -_HOLD, power))
    return np.where(rules, turbulent, held), exponent


def _ratio(beta: ArrayLike) -> Array:
    return floats(np.clip(beta, 0.0, 1.0))
