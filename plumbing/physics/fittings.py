"""Losses of fittings by the two-K and the three-K method, as a band.

Both rest on pipes of an inch and more. In the small bores of a model the size term of the
two-K method is an upper bound, and the three-K value is carried as the low bound.
"""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import INCH
from plumbing.physics.tables import rows

MOUTH = (160.0, 0.5, 1.0)  # [-] K1, low and high K where a line begins or ends; see `coefficients`


@cache
def _table() -> dict[str, tuple[float, ...]]:
    """Hooper's K1 and K-infinity [-], Darby's Ki [-] and Kd [in^0.3] by our plain names."""
    from fluids.fittings import Darby, Hooper  # a tenth of a second to import, so only when asked

    found: dict[str, tuple[float, ...]] = {}
    for row in rows("fittings"):
        (k1, k_inf), (_, k_i, k_d) = Hooper[row["two_k_key"]], Darby[row["three_k_key"]]
        found[row["name"]] = (float(k1), float(k_inf), float(k_i), float(k_d))
    return found


def names() -> tuple[str, ...]:
    """Names of all fittings."""
    return tuple(_table())


def coefficients(name: str, bore: float) -> tuple[float, float, float]:
    """Loss coefficient of a fitting, ``K1 / Re + K`` on the dynamic pressure in its bore.

    Parameters
    ----------
    name : str
        Our plain name; KeyError for an unknown one.
    bore : float
        Inner diameter, which stands in for the nominal size, above 0 [m].

    Returns
    -------
    tuple of float
        K1, and K by the three-K method (low) and by the two-K method (high) [-]; put in order,
        since for a tee's run the three-K value is the higher from about 4 mm up.

    References
    ----------
    W. B. Hooper, Chemical Engineering, 24 August 1981, and Silverberg and Darby, Chemical
    Engineering, July 1999, as tabulated in the fluids library. Of a mouth from memory: entrance
    0.5 flush and 1.0 inward, exit 1.0, none with a size term.
    """
    k1, k_inf, k_i, k_d = _table()[name]
    size = INCH / bore
    both = k_inf * (1.0 + size), k_i * (1.0 + k_d * size**0.3)
    return k1, min(both), max(both)


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
