"""One case of a study: the variant read, computed, and told in one row."""

from __future__ import annotations

import math
from dataclasses import dataclass

from plumbing.errors import LayoutError, PlumbingError
from plumbing.layout.gathering import Faults
from plumbing.layout.load import read_grown
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import RESULTS, Counting, Outcome, Value


@dataclass(frozen=True, slots=True)
class Row:
    """One finished case.

    Attributes
    ----------
    number : int
        Number of the case.
    values : tuple
        What varied, as it stands in the table.
    results : tuple of float, int or None
        The results wanted, in SI; None where there is none.
    fault : str
        Why there are no results: the first fault of the variant; empty if there are.
    """

    number: int
    values: tuple[str | float, ...]
    results: tuple[Value, ...]
    fault: str = ""


def row_of(plan: Plan, number: int, counting: Counting) -> Row:
    """Compute one case; a variant that is no layout gives a row that says why."""
    case, wanted = plan.case(number), plan.study.results
    try:
        layout = read_grown(plan.tree(case), case.file, Faults())
        outcome = Outcome(layout, counting)
        found = tuple(_finite(RESULTS[name].of(outcome)) for name in wanted)
    except LayoutError as wrong:
        return Row(number, case.values, (None,) * len(wanted), str(wrong.faults[0]))
    except PlumbingError as stopped:
        return Row(number, case.values, (None,) * len(wanted), str(stopped))
    return Row(number, case.values, found)


def rows_of(plan: Plan, numbers: tuple[int, ...], counting: Counting) -> tuple[Row, ...]:
    """Compute some cases; what one process is given at a time."""
    return tuple(row_of(plan, number, counting) for number in numbers)


def _finite(value: Value) -> Value:
    return value if value is None or math.isfinite(value) else None
