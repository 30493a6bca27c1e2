"""What the wall of a tank can stand at most, by its shape and material.

Bounds of the order of magnitude: a tank that is stated to stand several times as much was not
measured.
"""

import math

_POISSON = 0.3  # of plastics and laminates, nearly; from memory
_PLATE = 0.308  # greatest stress of a clamped square plate over p (b/t)^2
_MEMBRANE = 4.0  # what bulging adds to a flat wall's strength at most; common practice


def round_collapse(modulus: float, thickness: float, diameter: float, length: float) -> float:
    """Outside pressure at which a thin cylinder between stiff ends buckles [Pa].

    Parameters
    ----------
    modulus : float
        Of elasticity [Pa].
    thickness, diameter, length : float
        Of the wall and the cylinder [m].

    References
    ----------
    Windenburg and Trilling, 1934, formula of the experimental model basin; from memory.
    """
    slender = thickness / diameter
    free = length / diameter - 0.45 * math.sqrt(slender)
    stiff: float = 2.42 * modulus * slender**2.5 / (1.0 - _POISSON**2) ** 0.75
    return stiff / max(free, 0.1)


def round_burst(strength: float, thickness: float, diameter: float) -> float:
    """Inside pressure at which a thin cylinder yields: 2 strength thickness / diameter [Pa]."""
    return 2.0 * strength * thickness / diameter


def flat_burst(strength: float, thickness: float, width: float) -> float:
    """Inside pressure at which a flat wall of that width yields, bulging allowed for [Pa].

    References
    ----------
    Clamped square plate, greatest stress 0.308 p (b/t)^2: Timoshenko; from memory.
    """
    return _MEMBRANE * strength / _PLATE * (thickness / width) ** 2
