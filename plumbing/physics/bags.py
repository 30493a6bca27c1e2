"""Collapsing bag tanks: the pressure in a bag by how full it is."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array

USUAL_COLLAPSE = 5e3
"""Suction at which a bag lies folded flat [Pa]; common practice, of thin film."""

USUAL_PROOF = 10e3
"""Pressure that a bag bears [Pa]; common practice, half of what a confined seam stands."""

USUAL_STAYS = 0.02
"""Share of its capacity that stays in the folds of a bag [-]; common practice, 1 to 5 %."""

USUAL_FILLING = 100e3
"""Pressure of the filling pump at which a bag takes no more [Pa]; common practice."""

FOLDS = 0.08
"""Share of its capacity over which its folds close before it is empty [-]; common practice."""

TAUT = 0.01
"""Share of its capacity over which its film is stretched tight [-]; common practice."""

_SHUT = 1e-3  # share over which folds that lie on each other shut it; our choice, as good as none
_MOST = 60e3  # [Pa] suction against which nothing comes out; more than any fuel pump pulls
_FULL = 0.9999  # of the stretch: nothing more goes in


def bag_pressure(held: ArrayLike, stays: ArrayLike, collapse: ArrayLike, proof: ArrayLike) -> Array:
    """Gauge pressure in a bag without air [Pa].

    Limp film passes on the pressure outside. Near the end the suction rises with the square of how
    far the folds are closed; with what stays inside they lie on each other, and nothing more comes
    out. In the last hundredth the film is tight, and the pressure rises without end.

    Parameters
    ----------
    held : array_like
        Fuel in it, as share of its capacity [-].
    stays : array_like
        What stays in its folds, as share of its capacity [-].
    collapse : array_like
        Suction at which it lies folded flat [Pa].
    proof : array_like
        Pressure with half of the last hundredth in it [Pa].

    Notes
    -----
    Common practice; bags differ, so a suction and a residue that were measured are stated.
    """
    held, stays, collapse = (np.asarray(one, float) for one in (held, stays, collapse))
    folded = np.clip((stays + FOLDS - held) / FOLDS, 0.0, 1.0)
    shut = np.clip((stays - held) / _SHUT, 0.0, 1.0)
    flat = np.minimum(collapse, _MOST)
    tight = np.clip((held - 1.0 + TAUT) / TAUT, 0.0, _FULL)
    suction = flat * folded**2 + (_MOST - flat) * shut
    return np.asarray(np.asarray(proof, float) * tight / (1.0 - tight) - suction)


def bag_marks(stays: float) -> tuple[float, ...]:
    """Shares of its capacity at which the law of a bag has corners [-]."""
    return stays - _SHUT, stays, stays + FOLDS, 1.0 - TAUT
