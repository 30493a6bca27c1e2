"""First antisymmetric mode of a liquid in a rigid tank, and how it swings after a change.

References
----------
Abramson, NASA SP-106, 1966, chapter 2, from memory.
"""

from __future__ import annotations

import numpy as np

from plumbing.physics.arrays import Array

ROUND = 1.8411838  # first zero of the derivative of the Bessel function J1, from memory


def wavenumber_between(walls: Array) -> Array:
    """Wavenumber of the first mode between two walls so far apart [m], of any shape [1/m].

    Half a wave fits between them: pi / L.
    """
    return np.asarray(np.pi / walls)


def wavenumber_round(radius: float) -> float:
    """Wavenumber of the first mode in an upright cylinder of that radius [m], [1/m].

    1.841 / R, by the first zero of the derivative of the Bessel function J1.
    """
    return ROUND / radius


def frequency(gravity: Array, wavenumber: Array, depth: Array) -> Array:
    """Natural frequency of the first mode [rad/s].

    Parameters
    ----------
    gravity : Array
        Size of the effective gravity [m/s2], any shape that broadcasts with the others.
    wavenumber : Array
        Of the mode [1/m].
    depth : Array
        Depth of the liquid at rest [m].

    Returns
    -------
    Array
        Omega, by omega^2 = g k tanh(k h).
    """
    return np.asarray(np.sqrt(gravity * wavenumber * np.tanh(wavenumber * depth)))


def swung(
    offset: Array, speed: Array, omega: Array, damping: float, time: Array
) -> tuple[Array, Array]:
    """Offset from rest and speed of a damped swing after some time, arrays that broadcast.

    Parameters
    ----------
    offset, speed : Array
        At the beginning [-] and [1/s].
    omega : Array
        Natural frequency [rad/s]; 0 where nothing pulls it back.
    damping : float
        Share of the critical damping, below 1 [-].
    time : Array
        Since then [s].
    """
    decay, turns = damping * omega, omega * np.sqrt(1.0 - damping**2)
    fades = np.exp(-decay * time)
    cosine, sine = np.cos(turns * time), time * np.sinc(turns * time / np.pi)  # sine over `turns`
    return (
        np.asarray(fades * (offset * cosine + (speed + decay * offset) * sine)),
        np.asarray(fades * (speed * cosine - (omega**2 * offset + decay * speed) * sine)),
    )
