"""Losses where the bore changes suddenly, as at barbs and nipples, as a band.

All coefficients are on the dynamic pressure in the small bore.

High bound: Hooper's laws, which count what a long narrow bore costs in laminar flow. Behind a
narrowing the profile takes shape in full (1.2 and the flat profile's own head make the 2.2 of
developing flow), and a widening gives none of its two heads back. His laminar and turbulent laws
do not meet: read as they stand, the drop would fall as the flow grows past the change. Here the
laminar drop is held (growing as flow to the 0.1) until the turbulent law overtakes it, so the
loss is continuous and always grows with the flow. Away from that stretch both laws are Hooper's.

Low bound: Crane's narrowing and Borda's widening, which hold for flat profiles. A barb is four
bores long and at Re 1000 the flow needs sixty to take shape, so its core is still flat; the
profile of the tube behind it is counted there, as developing flow. Both are constants below
Hooper's at every Reynolds number. Creeping flow would add up to half of Sampson's 24 mu q / d^3
at each step: under 0.4 heads from Re 50 up, and left out of a low bound.
"""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.fittings import fitting_loss
from plumbing.physics.friction import churchill, reynolds

_SLOWEST = 1e-6
_CONTRACTION_LIMIT = 2500.0  # [-] in the large bore
_EXPANSION_LIMIT = 4000.0  # [-] in the small bore
_HOLD = 1.9  # the held coefficient falls with this power of the Reynolds number


def contraction_least(beta: ArrayLike) -> Array:
    """Low bound of the coefficient of a sharp contraction [-]; bore ratio [-].

    References
    ----------
    Crane Technical Paper 410, contraction of 180 degrees.
    """
    return 0.5 * (1.0 - _ratio(beta) ** 2)


def expansion_least(beta: ArrayLike) -> Array:
    """Low bound of the coefficient of a sharp expansion [-]; bore ratio [-]. Borda."""
    return (1.0 - _ratio(beta) ** 2) ** 2


def least_coefficient(bore_before: ArrayLike, bore_after: ArrayLike) -> Array:
    """Low bound of the loss coefficient of a change of bore.

    Parameters
    ----------
    bore_before, bore_after : array_like
        Inner diameters in the order the flow meets them, above 0 [m].

    Returns
    -------
    Array
        Coefficient on the dynamic pressure in the small bore [-], the same at every flow.
    """
    before, after = floats(bore_before), floats(bore_after)
    beta = np.minimum(before, after) / np.maximum(before, after)
    return floats(np.where(before > after, contraction_least(beta), expansion_least(beta)))


def laminar_change(bore_before: Array, bore_after: Array) -> tuple[Array, Array, Array]:
    """What `change_loss` is up to the end of its laminar laws: a mu q + b rho q^2.

    Parameters
    ----------
    bore_before, bore_after : Array
        Inner diameters in the order the flow meets them, above 0 [m].

    Returns
    -------
    a, b, number : tuple of Array
        Coefficients [1/m3], [1/m4], and the Reynolds number in the small bore up to which they
        hold [-].
    """
    small = np.minimum(bore_before, bore_after)
    beta = _ratio(small / np.maximum(bore_before, bore_after))
    narrows, heads = bore_before > bore_after, 0.5 * (1.0 - beta**4) / (np.pi / 4.0 * small**2) ** 2
    creeping = 0.5 * 160.0 / beta * (1.0 - beta**4) * 4.0 / np.pi / small**3
    return (
        np.where(narrows, creeping, 0.0),
        np.where(narrows, 1.2, 2.0) * heads,
        np.where(narrows, _CONTRACTION_LIMIT / beta, _EXPANSION_LIMIT),
    )


def change_band(
    flow: ArrayLike,
    bore_before: ArrayLike,
    bore_after: ArrayLike,
    density: ArrayLike,
    viscosity: ArrayLike,
) -> tuple[Array, Array]:
    """Low and high bound of the pressure lost where a bore changes [Pa], of the flow's sign.

    Parameters as for `change_loss`.
    """
    flow, before, after = floats(flow), floats(bore_before), floats(bore_after)
    forward = flow >= 0.0
    first, then = np.where(forward, before, after), np.where(forward, after, before)
    low, _ = fitting_loss(
        flow, 0.0, least_coefficient(first, then), np.minimum(before, after), density, viscosity
    )
    return low, change_loss(flow, before, after, density, viscosity)[0]


def change_loss(
    flow: ArrayLike,
    bore_before: ArrayLike,
    bore_after: ArrayLike,
    density: ArrayLike,
    viscosity: ArrayLike,
) -> tuple[Array, Array]:
    """Total pressure lost where a bore changes, the high bound, and its slope.

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
    beta = small / np.maximum(before, after)
    number = reynolds(flow, small, density, viscosity)
    narrowing = (before > after) == (flow >= 0.0)
    inward, inward_power = contraction(number, beta)
    outward, outward_power = expansion(number, beta)
    number = np.maximum(number, _SLOWEST)  # keeps K Re finite where K is a constant over Re
    each = (
        0.5
        * np.where(narrowing, inward, outward)
        * number
        * (4.0 / np.pi * floats(viscosity) / small**3)
    )
    return each * flow, each * (2.0 + np.where(narrowing, inward_power, outward_power))


def contraction(reynolds_small: ArrayLike, beta: ArrayLike) -> tuple[Array, Array]:
    """Loss coefficient of a sharp contraction, the high bound, smooth walls.

    Parameters
    ----------
    reynolds_small : array_like
        Reynolds number in the small bore [-]; held at 1e-6 below it.
    beta : array_like
        Small bore over large bore [-], 0 to 1.

    Returns
    -------
    coefficient, power : tuple of Array
        Loss coefficient K [-], and d ln K / d ln Re [-].

    References
    ----------
    W. B. Hooper, Chemical Engineering, 7 November 1988, 89.
    """
    beta = _ratio(beta)
    large = floats(np.maximum(floats(reynolds_small) * beta, _SLOWEST))
    past = large / _CONTRACTION_LIMIT
    laminar = (1.2 + 160.0 / np.minimum(large, _CONTRACTION_LIMIT)) * (1.0 - beta**4)
    power = np.where(past < 1.0, -160.0 / (160.0 + 1.2 * large), 0.0)
    if not (past > 1.0).any():
        return laminar, power
    turbulent = (0.6 + 0.48 * churchill(large)) * (1.0 - beta**2)
    return _held(laminar, turbulent, power, past)


def expansion(reynolds_small: ArrayLike, beta: ArrayLike) -> tuple[Array, Array]:
    """Coefficient of a sharp expansion [-] and its power of the flow [-]; see `contraction`."""
    number, beta = floats(reynolds_small), _ratio(beta)
    past = number / _EXPANSION_LIMIT
    laminar = 2.0 * (1.0 - beta**4)
    if not (past > 1.0).any():
        return floats(laminar + 0.0 * past), np.zeros(())
    turbulent = (1.0 + 0.8 * churchill(number)) * (1.0 - beta**2) ** 2
    return _held(laminar, turbulent, np.zeros(()), past)


def _held(laminar: Array, turbulent: Array, power: Array, past: Array) -> tuple[Array, Array]:
    """Laminar law below its limit (`past` under 1), then held until the turbulent law is more."""
    beyond = past > 1.0
    held = laminar * np.maximum(past, 1.0) ** -_HOLD
    rules = beyond & (turbulent > held)
    exponent = np.where(rules, 0.0, np.where(beyond, -_HOLD, power))
    return np.where(rules, turbulent, held), exponent


def _ratio(beta: ArrayLike) -> Array:
    return floats(np.clip(beta, 0.0, 1.0))
