"""The one array type of the numeric floors."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]


def floats(value: ArrayLike) -> Array:
    """Array of floats in the same unit [any]; what is one already is not copied."""
    return np.asarray(value, float)
