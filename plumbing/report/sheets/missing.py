"""What could not be computed, as a table: the reason stands where the result would."""

from __future__ import annotations

from collections.abc import Iterable

from plumbing.report.schedules.table import Column, Table
from plumbing.results import NotComputed

_COLUMNS = (Column("result"), Column("why"))


def missing(*results: Iterable[NotComputed]) -> list[Table]:
    """One table of all reasons; none where nothing is missing."""
    reasons = dict.fromkeys(one for some in results for one in some)
    if not reasons:
        return []
    rows = tuple((one.what, one.reason) for one in reasons)
    name = ", ".join(one.what for one in reasons)
    return [Table(f"not computed: {name}", "Not computed", _COLUMNS, rows)]
