"""How the materials of tubes, hoses and seals stand kerosene and heat."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources

from plumbing.model.line import Tube

_SOFT_BELOW = 80.0  # Shore A; common practice


@dataclass(frozen=True, slots=True)
class Material:
    """One material.

    Attributes
    ----------
    name : str
        As a builder would write it.
    family : str
        plastic, rubber or metal.
    kerosene : str
        good, ages (serves some years) or attacked.
    max_celsius : float
        Highest temperature in service [degC].
    source : str
        Where that is from.
    """

    name: str
    family: str
    kerosene: str
    max_celsius: float
    source: str


@cache
def _materials() -> dict[str, Material]:
    table = resources.files("plumbing.checks") / "tables" / "materials.csv"
    found = {}
    for row in csv.DictReader(table.read_text(encoding="utf-8").splitlines()):
        known = Material(
            row["name"], row["family"], row["kerosene"], float(row["max_celsius"]), row["source"]
        )
        for name in (row["name"], *filter(None, row["also"].split("|"))):
            found[name.casefold()] = known
    return found


def material(name: str | None) -> Material | None:
    """Material of that name or another usual spelling; None if it is not in the table."""
    return _materials().get(" ".join(name.split()).casefold()) if name else None


def is_soft(tube: Tube) -> bool | None:
    """Whether suction or a fingernail can flatten a tube's wall; None if that is not known."""
    if tube.hardness is not None:
        return tube.hardness < _SOFT_BELOW
    known = material(tube.material)
    return None if known is None else known.family == "rubber"


def ages(name: str) -> bool | None:
    """Whether a tube of this material must be renewed; None if it is not in the table."""
    known = material(name)
    return None if known is None else known.family == "rubber" or known.kerosene == "ages"
