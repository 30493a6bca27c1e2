"""Losses of fittings by the two-K and the three-K method, as a band.

Both rest on pipes of an inch and more. In the small bores of a model the size term of the
two-K method is an upper bound, and the three-K value is carried as the low bound.
"""

from collections.abc import Mapping
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import INCH
from plumbing.physics.tables import rows

_SLOWEST = 1e-6  # Reynolds number below which coefficients are held, to stay finite


@cache
def _row(name: str) -> Mapping[str, str]:
    for row in rows("fittings"):
        if row["name"] == name:
            return row
    raise KeyError(name)


def names() -> tuple[str, ...]:
    """Names of all fittings."""
    return tuple(row["name"] for row in rows("fittings"))


def has_size_term(name: str) -> bool:
    """Whether the fitting's coefficient grows as the bore shrinks; entrances and exits do not."""
    return _row(name)["size_term"] == "yes"


@cache
def two_k(name: str) -> tuple[float, float]:
    """K1 and K-infinity [-] of a fitting, by our plain name; KeyError for an unknown one.

    References
    ----------
    W. B. Hooper, Chemical Engineering, 24 August 1981, as tabulated in the fluids library;
    entrances and exits from memory.
    """
    row = _row(name)
    return float(row["k1"]), float(row["k_inf"])


@cache
def three_k(name: str) -> tuple[float, float, float]:
    """K1, Ki [-] and Kd [in^0.3] of a fitting, by our plain name; KeyError for an unknown one.

    Entrances and exits have no size term: their Kd is 0.

    References
    ----------
    Silverberg and Darby, Chemical Engineering, July 1999, as tabulated in the fluids library.
    """
    row = _row(name)
    return float(row["three_k1"]), float(row["three_ki"]), float(row["three_kd"])


def two_k_loss_coefficient(
    reynolds: ArrayLike, k1: ArrayLike, k_inf: ArrayLike, bore: ArrayLike, size_term: bool = True
) -> Array:
    """Loss coefficient by the two-K method, the high bound.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number in the bore [-]; held at 1e-6 below it.
    k1, k_inf : array_like
        From `two_k` [-].
    bore : array_like
        Inner diameter, above 0 [m].
    size_term : bool
        From `has_size_term`.

    Returns
    -------
    Array
        Loss coefficient on the dynamic pressure in the bore [-].
    """
    size = 1.0 + INCH / floats(bore) if size_term else floats(1.0)
    return floats(k1) / floats(np.maximum(reynolds, _SLOWEST)) + floats(k_inf) * size


def three_k_loss_coefficient(
    reynolds: ArrayLike, k1: ArrayLike, ki: ArrayLike, kd: ArrayLike, bore: ArrayLike
) -> Array:
    """Loss coefficient by the three-K method [-], the low bound.

    The bore stands in for the nominal size. Arguments and result as for
    `two_k_loss_coefficient`, coefficients from `three_k`.
    """
    size = 1.0 + floats(kd) * (INCH / floats(bore)) ** 0.3
    return floats(k1) / floats(np.maximum(reynolds, _SLOWEST)) + floats(ki) * size


def loss_band(name: str, reynolds: ArrayLike, bore: ArrayLike) -> tuple[Array, Array]:
    """Low and high loss coefficient [-] of a named fitting; Reynolds number [-], bore [m].

    The methods are put in order: for a tee's run the three-K value is the higher from about
    4 mm up.
    """
    first = three_k_loss_coefficient(reynolds, *three_k(name), bore)
    second = two_k_loss_coefficient(reynolds, *two_k(name), bore, has_size_term(name))
    return floats(np.minimum(first, second)), floats(np.maximum(first, second))


def fitting_loss(
    flow: ArrayLike,
    k1: ArrayLike,
    k_inf: ArrayLike,
    bore: ArrayLike,
    density: ArrayLike,
    viscosity: ArrayLike,
) -> tuple[Array, Array]:
    """Pressure lost in a fitting of coefficient ``K1/Re + K``, and its slope.

    Written as a linear and a quadratic part, so it is exact and finite without flow.

    Parameters
    ----------
    flow : array_like
        Volume flow, of either sign [m3/s].
    k1, k_inf : array_like
        The two parts of the coefficient [-], the second with its size term.
    bore : array_like
        Inner diameter the coefficient belongs to, above 0 [m].
    density, viscosity : array_like
        Density [kg/m3] and dynamic viscosity [Pa s].

    Returns
    -------
    drop, slope : tuple of Array
        Pressure lost [Pa], odd in the flow, and its derivative [Pa s/m3].
    """
    flow, bore = floats(flow), floats(bore)
    area = 0.25 * np.pi * bore * bore
    linear = 0.5 * floats(k1) * floats(viscosity) / (bore * area)
    square = 0.5 * floats(k_inf) * floats(density) / area**2 * np.abs(flow)
    return (linear + square) * flow, linear + 2.0 * square
