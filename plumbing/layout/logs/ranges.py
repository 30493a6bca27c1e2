"""Values no flight has, and how a throttle is written."""

from __future__ import annotations

import numpy as np

from plumbing import units
from plumbing.layout.gathering import quoted
from plumbing.layout.logs.cells import Repeated
from plumbing.layout.logs.gaps import Rules
from plumbing.layout.logs.header import Column
from plumbing.layout.logs.quantities import QUANTITIES, SHARE
from plumbing.physics.arrays import Array, Indices

_SHARE_AT_MOST = 1.02


def throttle_factor(values: Array) -> float:
    """Factor to 0 to 1 of a throttle whose column names no unit: by its usual largest values."""
    known = values[np.isfinite(values)]
    if not known.size:
        return 1.0
    return 1.0 if float(np.quantile(known, 0.99)) <= _SHARE_AT_MOST else 0.01


def check_range(
    name: str,
    values: Array,
    factor: float,
    lines: Indices,
    column: Column,
    rules: Rules,
) -> None:
    """Note values outside what a flight can have.

    Parameters
    ----------
    name : str
        Field of `model.flight.Columns`.
    values : Array
        In SI (g for load factors), shape (N,).
    factor : float
        To that from the file's own numbers, which are shown.
    lines : Indices
        Line of each, shape (N,).
    column : Column
        Where they stand.
    rules : Rules
        Receives the faults.
    """
    quantity = QUANTITIES[name]
    wild = Repeated(rules.faults)
    with np.errstate(invalid="ignore"):
        rows = np.flatnonzero((values < quantity.low) | (values > quantity.high))
    for row in rows:
        found = f"{values[row] / factor:.6g} in {quoted(column.title)}"
        wild.add(rules.at(lines[row], column), found, _allowed(name, factor))
    wild.close()


def _allowed(name: str, factor: float) -> str:
    quantity = QUANTITIES[name]
    if quantity.kind == SHARE:
        return "0 to 1, or 0 to 100 as in `throttle [%]`" if factor == 1.0 else "0 to 100"
    low, high = (units.show(bound, quantity.kind, 4) for bound in (quantity.low, quantity.high))
    return f"{low} to {high}"
