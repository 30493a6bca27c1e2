"""Friction in curved tube, after the Dean number ``De = Re sqrt(bore / diameter of the bend)``.

White's ratio is used up to the transition in curved tube, Mori and Nakayama's turbulent law
beyond it, joined over a fifth in Reynolds number; a bend is never taken as easier than straight
tube. Both hold for long coils, so for one corner they are an upper bound.
"""

import math

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.friction import laminar_excess

STRAIGHTEST = 11.6  # [-] Dean number up to which a laminar bend loses no more than straight tube
_STRAIGHT_LIMIT = 2300.0
_BEYOND = 1e15  # [-] a Dean number above which nothing is left of the laminar law
_WEAKEST = 0.034  # [-] Re curvature**2 below which bends do not matter in turbulence (Ito 1959)
_JOIN = math.log(1.2)


def dean(reynolds_number: ArrayLike, curvature: ArrayLike) -> Array:
    """Dean number [-]; curvature is bore over diameter of the bend, both to the centre line."""
    return floats(reynolds_number) * np.sqrt(floats(curvature))


def white(dean_number: ArrayLike) -> tuple[Array, Array]:
    """Laminar friction over that of straight tube, and how fast it grows.

    Parameters
    ----------
    dean_number : array_like
        Dean number [-], 11.6 to 2000; 1 below.

    Returns
    -------
    ratio, growth : tuple of Array
        Ratio [-], and d ln(ratio) / d ln(De) [-].

    References
    ----------
    C. M. White, Streamline flow through curved pipes, Proc. R. Soc. A 123, 1929.
    """
    u = (STRAIGHTEST / floats(np.clip(dean_number, STRAIGHTEST, _BEYOND))) ** 0.45
    ratio = 1.0 / (1.0 - (1.0 - u) ** (1.0 / 0.45))
    return ratio, u * (1.0 - u) ** (1.0 / 0.45 - 1.0) * ratio


def critical_reynolds(curvature: ArrayLike) -> Array:
    """Reynolds number of transition in curved tube [-], 2300 in a straight one.

    References
    ----------
    H. Ito 1959, for curvature from 1/860; below it the straight tube's value.
    """
    return floats(np.maximum(20000.0 * floats(curvature) ** 0.32, _STRAIGHT_LIMIT))


def mori_nakayama_turbulent(reynolds_number: ArrayLike, curvature: ArrayLike) -> Array:
    """Darcy friction factor of turbulent flow in curved tube [-]; both arguments above 0.

    The correction is held where ``Re curvature**2`` is under 0.034: below, curved tube is as
    straight tube, and the law as printed would grow without end.

    References
    ----------
    Mori and Nakayama, Int. J. Heat Mass Transfer 10, 1967, first paper on turbulent flow.
    """
    curve = floats(curvature)
    number = floats(reynolds_number) * curve**2
    return 0.3 * np.sqrt(curve) * number**-0.2 * (1.0 + _correction(number))


def _correction(number: Array) -> Array:
    """Correction in Mori and Nakayama's turbulent law [-], by Re curvature squared [-]."""
    return 0.112 * floats(np.maximum(number, _WEAKEST)) ** -0.2


def bend_ratio(
    reynolds_number: ArrayLike, curvature: ArrayLike, relative_roughness: ArrayLike = 0.0
) -> tuple[Array, Array]:
    """Friction in curved tube over 64/Re, and how fast the ratio grows.

    Parameters
    ----------
    reynolds_number : array_like
        Reynolds number [-], 0 or more.
    curvature : array_like
        Bore over diameter of the bend [-], 0 (straight) to 0.5.
    relative_roughness : array_like
        Roughness over bore [-].

    Returns
    -------
    ratio, growth : tuple of Array
        Darcy factor over 64/Re [-], and d ln(ratio) / d ln(Re) [-].
    """
    number = floats(reynolds_number)
    curve = floats(np.clip(curvature, 1e-9, 0.5))
    straight, straight_growth = laminar_excess(number, relative_roughness)
    floor = floats(np.maximum(number, 1.0))
    curved, curved_growth = _curved(floor, curve)
    higher = curved > straight
    return np.where(higher, curved, straight), np.where(higher, curved_growth, straight_growth)


def _curved(number: Array, curve: Array) -> tuple[Array, Array]:
    """Ratio to 64/Re and its growth by the laws for curved tube alone."""
    laminar, laminar_growth = white(dean(number, curve))
    correction = _correction(number * curve**2)
    turbulent = number / 64.0 * mori_nakayama_turbulent(number, curve)
    falling = np.where(number * curve**2 > _WEAKEST, correction / (1.0 + correction), 0.0)
    turbulent_growth = 0.8 - 0.2 * falling
    place = np.log(number / critical_reynolds(curve)) / _JOIN + 0.5
    share = floats(np.clip(place, 0.0, 1.0))
    ratio = laminar ** (1.0 - share) * turbulent**share
    growth = (1.0 - share) * laminar_growth + share * turbulent_growth
    joining = (place > 0.0) & (place < 1.0)
    return ratio, growth + np.where(joining, np.log(turbulent / laminar) / _JOIN, 0.0)
