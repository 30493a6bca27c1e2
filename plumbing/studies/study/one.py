"""One case of a study: the variant read, computed, and told in one row."""

from __future__ import annotations

import math

from plumbing.errors import LayoutError, PlumbingError
from plumbing.frozen import frozen
from plumbing.layout.gathering import Faults
from plumbing.layout.load import read_grown
from plumbing.results import NotComputed, listening
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import RESULTS, Counting, Outcome, Value


@frozen
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
        Why results are missing: the first fault of the variant, or why some were not computed;
        empty if there are all.
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
        read = [_read(outcome, name) for name in wanted]
    except LayoutError as wrong:
        return Row(number, case.values, (None,) * len(wanted), str(wrong.faults[0]))
    except PlumbingError as stopped:
        return Row(number, case.values, (None,) * len(wanted), str(stopped))
    reasons = dict.fromkeys(str(one) for _, missing in read for one in missing)
    return Row(number, case.values, tuple(value for value, _ in read), "; ".join(reasons))


def _read(outcome: Outcome, name: str) -> tuple[Value, list[NotComputed]]:
    """One result; none where any part of it was not computed, and then why."""
    value: Value = None
    with listening() as missing:
        value = _finite(RESULTS[name].of(outcome))
    return (None if missing else value), missing


def rows_of(plan: Plan, numbers: tuple[int, ...], counting: Counting) -> tuple[Row, ...]:
    """Compute some cases; what one process is given at a time."""
    return tuple(row_of(plan, number, counting) for number in numbers)


def _finite(value: Value) -> Value:
    return value if value is None or math.isfinite(value) else None
