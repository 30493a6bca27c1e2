"""The table of a study: CSV, or Parquet where its library is installed."""

from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from importlib.util import find_spec
from io import BytesIO, StringIO
from pathlib import Path

from plumbing.errors import UsageError
from plumbing.studies.study.one import Row
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import RESULTS, Value


def head(plan: Plan) -> list[str]:
    """Names of the columns, with units."""
    results = [
        f"{name} [{RESULTS[name].unit}]" if RESULTS[name].unit else name
        for name in plan.study.results
    ]
    return ["case", *plan.variables, *results, "fault"]


def study_csv(plan: Plan, rows: Sequence[Row]) -> str:
    """Write the rows; numbers so that they are read back exactly."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head(plan))
    for row in rows:
        results = ["" if value is None else repr(value) for value in row.results]
        shown = [_safe(value) for value in row.values]
        writer.writerow([row.number, *shown, *results, _safe(row.fault)])
    return out.getvalue()


def _safe(value: str | float) -> str:
    """Text in which nothing breaks a table, and no spreadsheet sees a formula."""
    if not isinstance(value, str):
        return repr(value)
    plain = "".join(char if char.isprintable() else "?" for char in value)
    return f"'{plain}" if plain[:1] in "=+@" and plain[:1] else plain


def written(table: str) -> Callable[[Plan, Sequence[Row]], bytes]:
    """What writes a table of that name; asked before a long study, not after it.

    Raises
    ------
    UsageError
        The ending is neither .csv nor .parquet, or Parquet's library is not installed.
    """
    ending = Path(table).suffix.lower()
    if ending == ".csv":
        return lambda plan, rows: study_csv(plan, rows).encode()
    if ending != ".parquet":
        raise UsageError(f"cannot write `{Path(table).name}`: it must end in .csv or .parquet")
    if find_spec("pyarrow") is None:
        raise UsageError("Parquet needs the extra: pip install 'plumbing[parquet]'")
    return study_parquet


def study_parquet(plan: Plan, rows: Sequence[Row]) -> bytes:
    """Write the rows as Parquet."""
    import pyarrow
    from pyarrow import parquet

    names, listed = head(plan), len(plan.variables) - len(plan.study.ranged)
    columns: list[list[str | Value]] = [[row.number for row in rows]]
    columns += [[row.values[n] for row in rows] for n in range(len(plan.variables))]
    columns += [[row.results[n] for row in rows] for n in range(len(plan.study.results))]
    columns.append([row.fault for row in rows])
    words, reals, counts = pyarrow.string(), pyarrow.float64(), pyarrow.int64()
    kinds = [
        counts,
        *([words] * listed),
        *([reals] * len(plan.study.ranged)),
        *(reals if RESULTS[name].unit else counts for name in plan.study.results),
        words,
    ]
    arrays = [pyarrow.array(one, kind) for one, kind in zip(columns, kinds, strict=True)]
    out = BytesIO()
    parquet.write_table(pyarrow.table(arrays, names=names), out)
    return out.getvalue()
