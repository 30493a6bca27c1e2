"""How the materials of tubes, hoses and seals stand kerosene, by any usual spelling."""

from plumbing.model.layout import Layout
from plumbing.model.line import Tube
from plumbing.physics.materials import SPELLINGS, Material
from plumbing.physics.materials import material as _material

_SOFT_BELOW = 80.0  # Shore A; common practice
_METALS_ABOVE = 2500.0  # kg/m3; no plastic or rubber is so heavy
_RATED_AT = 20.0  # degC; from memory
_HOT = 0.5  # of a tube's rating left at the highest temperature it stands; from memory
_FAIR = ("fair", "poor", "unsuitable")


def material(name: str | None) -> Material | None:
    """Material of that name or another usual spelling; None if it is not in the table."""
    if not name:
        return None
    plain = " ".join(name.casefold().split())
    return _material(SPELLINGS.get(plain, plain))


def is_metal(name: str | None) -> bool:
    """Whether it is certainly a metal."""
    known = material(name)
    return known is not None and known.density > _METALS_ABOVE


def highest_celsius(tube: Tube) -> float | None:
    """Temperature a tube stands [degC]; None if that is not known."""
    known = material(tube.material)
    return tube.max_temperature or (known.max_celsius if known else None)


def hottest_fuel(layout: Layout) -> float:
    """Highest temperature the fuel reaches, in flight or parked [degC]."""
    parked = (one.hottest for one in layout.parking.values() if one.hottest is not None)
    return max((layout.fuel.temperature.hottest, *parked))


def share_of_rating(celsius: float, highest: float) -> float:
    """Share of a tube's pressure rating that heat [degC] leaves: a straight line to `_HOT`."""
    share = (celsius - _RATED_AT) / max(highest - _RATED_AT, 1.0)
    return 1.0 - (1.0 - _HOT) * min(max(share, 0.0), 1.0)


def is_soft(tube: Tube) -> bool | None:
    """Whether suction or a fingernail can flatten a tube's wall; None if that is not known."""
    known = material(tube.material)
    hardness = tube.hardness
    if hardness is None and known is not None:
        hardness = known.hardness
    if hardness is None:
        return False if is_metal(tube.material) else None
    return hardness < _SOFT_BELOW


def ages(name: str) -> bool | None:
    """Whether a tube of this material must be renewed; None if it is not in the table."""
    known = material(name)
    if known is None:
        return None
    soft = known.hardness is not None and known.hardness < _SOFT_BELOW
    return not is_metal(name) and (soft or known.kerosene in _FAIR)
