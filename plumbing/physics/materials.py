"""Materials of tubes, seals, fittings and tanks, and how they stand kerosene."""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Literal, cast

from plumbing.frozen import frozen
from plumbing.physics.tables import number, rows

Standing = Literal["excellent", "good", "fair", "poor", "unsuitable"]
# Other usual spellings, in small letters, from memory.
SPELLINGS: Mapping[str, str] = MappingProxyType(
    {
        "aluminum": "aluminium",
        "epoxy glass": "glass-epoxy",
        "fkm": "fluoroelastomer",
        "fluorocarbon rubber": "fluoroelastomer",
        "fpm": "fluoroelastomer",
        "latex": "natural-rubber",
        "natural rubber": "natural-rubber",
        "nbr": "nitrile",
        "pa": "nylon",
        "pa11": "nylon",
        "pa12": "nylon",
        "pe": "polyethylene",
        "polyamide": "nylon",
        "pom": "acetal",
        "pu": "polyurethane",
        "rubber": "natural-rubber",
        "stainless steel": "stainless",
        "tpu": "polyurethane",
        "urethane": "polyurethane",
        "vmq": "silicone",
    }
)


@frozen(kw_only=True)
class Material:
    """One material.

    Attributes
    ----------
    name : str
        As layout files write it.
    kerosene : str
        How it stands kerosene for years: `excellent`, `good`, `fair`, `poor`, `unsuitable`.
    max_celsius : float
        Highest service temperature with fuel in it [degC].
    density : float
        [kg/m3].
    hardness : float or None
        Shore A, 100 for what is harder than that scale [-].
    modulus, strength : float or None
        Of elasticity, and the stress at which it yields or cracks [Pa]; from memory throughout.
    use : tuple of str
        What it is made into here: `tube`, `seal`, `fitting`, `tank`, `printed`.
    note : str
        What a builder should know.
    source : str
        Where the values are from.
    """

    name: str
    kerosene: Standing
    max_celsius: float
    density: float
    hardness: float | None
    modulus: float | None
    strength: float | None
    use: tuple[str, ...]
    note: str
    source: str


@cache
def materials() -> Mapping[str, Material]:
    """All materials by name."""
    found = {
        row["name"]: Material(
            name=row["name"],
            kerosene=cast(Standing, row["kerosene"]),
            max_celsius=float(row["max_celsius"]),
            density=float(row["density"]),
            hardness=number(row["hardness_shore_a"]),
            modulus=_scaled(row["modulus_gpa"], 1e9),
            strength=_scaled(row["strength_mpa"], 1e6),
            use=tuple(row["use"].split()),
            note=row["note"],
            source=row["source"],
        )
        for row in rows("materials")
    }
    return MappingProxyType(found)


def _scaled(text: str, unit: float) -> float | None:
    value = number(text)
    return None if value is None else value * unit


def material(name: str) -> Material | None:
    """A material by name, whatever its capitals; None when it is not in the table."""
    wanted = name.strip().casefold()
    return next((one for key, one in materials().items() if key.casefold() == wanted), None)
