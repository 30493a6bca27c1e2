"""Sharp orifices at low Reynolds number, for restrictors and drilled holes in a line."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.tables import rows

_BETAS = (0.5, 0.6, 0.65, 0.7)


@cache
def _table() -> tuple[Array, Array]:
    """Logarithms of the Reynolds numbers, shape (n,); coefficients, shape (n, 4)."""
    table = rows("orifices")
    numbers = np.array([float(row["reynolds"]) for row in table])
    return np.log(numbers), np.array([[float(row[f"beta_{b}"]) for b in _BETAS] for row in table])


def discharge_coefficient(reynolds: ArrayLike, beta: ArrayLike) -> Array:
    """Discharge coefficient of a sharp concentric orifice.

    Parameters
    ----------
    reynolds : array_like
        Reynolds number in the tube [-], 1 to 5e7; held at those ends.
    beta : array_like
        Hole over bore [-], 0.5 to 0.7; held at those ends.

    Returns
    -------
    Array
        Coefficient [-], linear between the table's rows over ln(Re) and over beta.

    References
    ----------
    C. Hollingshead, discharge coefficients at small Reynolds numbers, computed flow, as
    tabulated in the fluids library.
    """
    number, beta = np.broadcast_arrays(
        np.log(floats(np.clip(reynolds, 1.0, 5e7))), floats(np.clip(beta, _BETAS[0], _BETAS[-1]))
    )
    knots, values = _table()
    columns = np.stack([np.interp(number, knots, values[:, i]) for i in range(len(_BETAS))], -1)
    upper = np.clip(np.searchsorted(_BETAS, beta), 1, len(_BETAS) - 1)
    edges = np.array(_BETAS)
    share = (beta - edges[upper - 1]) / (edges[upper] - edges[upper - 1])
    low = np.take_along_axis(columns, (upper - 1)[..., None], -1)[..., 0]
    high = np.take_along_axis(columns, upper[..., None], -1)[..., 0]
    return floats(low + share * (high - low))


def orifice_loss_coefficient(reynolds: ArrayLike, beta: ArrayLike) -> Array:
    """Lasting loss of an orifice on the dynamic pressure in the tube [-].

    Arguments as for `discharge_coefficient`, but any `beta` from 0.01 to 0.999.

    References
    ----------
    Pressure loss formula of ISO 5167-2, from memory.
    """
    narrow = floats(np.clip(beta, 0.01, 0.999))
    c = discharge_coefficient(reynolds, narrow)
    return (np.sqrt(1.0 - narrow**4 * (1.0 - c**2)) / (c * narrow**2) - 1.0) ** 2
