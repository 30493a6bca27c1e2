"""Reads the tables of this floor: CSV files in which every row names its source."""

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType


@cache
def rows(name: str) -> tuple[Mapping[str, str], ...]:
    """Rows of one table.

    Parameters
    ----------
    name : str
        File name without its ending, as in ``tubes``.

    Returns
    -------
    tuple of mapping
        Column name to text, as written; every row has a `source` that is not empty.
    """
    text = (files(__package__) / "tables" / f"{name}.csv").read_text(encoding="utf-8")
    return tuple(MappingProxyType(row) for row in csv.DictReader(text.splitlines()))


def number(text: str, scale: float = 1.0) -> float | None:
    """Value of a cell [SI], or None when the cell is empty.

    Parameters
    ----------
    text : str
        A cell.
    scale : float
        Factor from the column's unit to SI.
    """
    return float(text) * scale if text.strip() else None
