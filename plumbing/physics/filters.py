"""Filters by their own pressure-flow law: a linear part through the pores, some dynamic part."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats


@dataclass(frozen=True, slots=True)
class FilterLaw:
    """``drop = linear * viscosity * flow + square * density * flow * |flow|``.

    Attributes
    ----------
    linear : float
        Darcy resistance [1/m3].
    square : float
        Dynamic resistance [1/m4].
    """

    linear: float
    square: float = 0.0


def filter_law(
    drop: float,
    flow: float,
    viscosity: float,
    density: float = 800.0,
    square_share: float = 0.0,
) -> FilterLaw:
    """Law of a filter from one stated drop.

    Parameters
    ----------
    drop : float
        Drop at that flow, 0 or more [Pa].
    flow : float
        Flow it is stated at, above 0 [m3/s]; without one there is no law and no loss.
    viscosity, density : float
        Dynamic viscosity, above 0 [Pa s], and density [kg/m3] of the liquid it is stated for.
    square_share : float
        Part of the drop that grows with the square of the flow [-], 0 to 1; 0 for felt, mesh
        and sintered elements whose pores are small.

    Returns
    -------
    FilterLaw
        The law.

    References
    ----------
    Darcy's law with Forchheimer's term.
    """
    if flow <= 0.0 or viscosity <= 0.0 or density <= 0.0:
        return FilterLaw(0.0)
    square = min(max(square_share, 0.0), 1.0)
    return FilterLaw(
        (1.0 - square) * drop / (viscosity * flow), square * drop / (density * flow**2)
    )


def filter_loss(
    flow: ArrayLike,
    linear: ArrayLike,
    square: ArrayLike,
    density: ArrayLike,
    viscosity: ArrayLike,
    dirt: ArrayLike = 1.0,
) -> tuple[Array, Array]:
    """Pressure lost in a filter, and its slope.

    Parameters
    ----------
    flow : array_like
        Volume flow, of either sign [m3/s].
    linear, square : array_like
        From `FilterLaw` [1/m3], [1/m4].
    density, viscosity : array_like
        Density [kg/m3] and dynamic viscosity [Pa s] of the liquid now.
    dirt : array_like
        Drop over that of the clean filter [-], 1 or more.

    Returns
    -------
    drop, slope : tuple of Array
        Pressure lost [Pa], odd in the flow, and its derivative [Pa s/m3].
    """
    flow = floats(flow)
    first = floats(linear) * floats(viscosity) * floats(dirt)
    second = floats(square) * floats(density) * floats(dirt) * np.abs(flow)
    return (first + second) * flow, first + 2.0 * second
