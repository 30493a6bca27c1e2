"""Extra loss where laminar flow is still taking shape behind an inlet (Hagenbach's term).

The profile settles over about 0.06 Re bores, so the short tubes of a model are mostly still
developing. The extra loss is that of laminar flow alone: it is faded out across the transition,
since a turbulent profile settles at once.
"""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats

K_INF, K_1 = 1.20, 38.0  # [-] extra loss, in the form K_INF + K_1 / Re
K_LOW, K_HIGH = 1.16, 1.33  # [-] band of the literature for K_INF, from memory
FADE_FROM, FADE_TO = 2100.0, 4000.0  # [-] Reynolds numbers the laminar part fades between


def entrance_length(reynolds: ArrayLike, bore: ArrayLike) -> Array:
    """Length [m] over which laminar flow takes shape; Reynolds number [-], bore [m].

    References
    ----------
    0.06 Re bores, F. M. White, Fluid Mechanics, from memory.
    """
    return 0.06 * floats(reynolds) * floats(bore)


def laminar_share(reynolds: ArrayLike) -> Array:
    """1 in laminar flow, 0 in turbulent, smooth between 2100 and 4000 [-]."""
    past = floats(np.clip((floats(reynolds) - FADE_FROM) / (FADE_TO - FADE_FROM), 0.0, 1.0))
    return 1.0 - past * past * (3.0 - 2.0 * past)


def hagenbach(reynolds: ArrayLike, k_inf: float = K_INF) -> Array:
    """Extra loss coefficient of a tube long enough for the flow to take shape.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-], 0 or more; under 1e-6 taken as 1e-6.
    k_inf : float
        Part that does not depend on the Reynolds number [-]; `K_LOW` and `K_HIGH` give the band.

    Returns
    -------
    Array
        Loss coefficient on the mean dynamic pressure [-], from a uniform inlet (1 more from a
        still tank); 0 in turbulent flow.

    References
    ----------
    1.20 + 38/Re, Chen 1973, from memory.
    """
    number = floats(np.maximum(reynolds, 1e-6))
    return laminar_share(number) * (k_inf + K_1 / number)


def developing_share(reynolds: ArrayLike, length: ArrayLike, bore: ArrayLike) -> Array:
    """Part of the extra loss that a tube of this length has room for [-], 0 to 1.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number [-], 0 or more.
    length, bore : array_like
        Length, 0 or more; bore, above 0 [m].

    References
    ----------
    Growth of the apparent friction factor, Shah 1978 as in Shah and London, from memory.
    """
    x = floats(length) / (floats(np.maximum(reynolds, 1e-6)) * floats(bore))
    x = floats(np.clip(x, 1e-12, 1e6))
    root = np.sqrt(x)
    settled = 1.0 / (1.0 + 2.1e-4 / x**2)
    excess = 4.0 * (3.44 * root * (1.0 - settled) - 16.0 * x * (1.0 - settled) + 0.3125 * settled)
    return floats(np.clip(excess / 1.25, 0.0, 1.0))
