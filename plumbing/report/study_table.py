"""The table of a study: CSV, or Parquet where its library is installed."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable
from importlib.util import find_spec
from io import StringIO, TextIOWrapper
from itertools import islice
from pathlib import Path
from typing import BinaryIO

from plumbing.drawing.sheet import MARK
from plumbing.errors import UsageError
from plumbing.report.words import harmless, shown
from plumbing.studies.study.one import Row
from plumbing.studies.study.plan import Plan
from plumbing.studies.study.results import RESULTS

Write = Callable[[Plan, Iterable[Row], BinaryIO], None]

_GROUP = 20_000  # rows that stand in memory together


def head(plan: Plan) -> list[str]:
    """Names of the columns, with units."""
    results = [
        f"{name} [{RESULTS[name].unit}]" if RESULTS[name].unit else name
        for name in plan.study.results
    ]
    return ["case", *plan.variables, *results, "fault"]


def head_row(plan: Plan) -> bytes:
    """First row of the table as CSV."""
    out = StringIO()
    csv.writer(out, lineterminator="").writerow(map(harmless, head(plan)))
    return out.getvalue().encode()


def study_csv(plan: Plan, rows: Iterable[Row], stream: BinaryIO) -> None:
    """Write the rows; numbers so that they are read back exactly."""
    out = TextIOWrapper(stream, encoding="utf-8", newline="", write_through=True)
    writer = csv.writer(out, lineterminator="\n")
    stream.write(head_row(plan) + b"\n")
    for row in rows:
        results = ["" if value is None else repr(value) for value in row.results]
        varied = [harmless(one) if isinstance(one, str) else repr(one) for one in row.values]
        writer.writerow([row.number, *varied, *results, harmless(row.fault)])
    out.detach()


def written(table: str) -> Write:
    """What writes a table of that name; asked before a long study, not after it.

    Raises
    ------
    UsageError
        The ending is neither .csv nor .parquet, or Parquet's library is not installed.
    """
    ending = Path(table).suffix.lower()
    if ending == ".csv":
        return study_csv
    if ending != ".parquet":
        raise UsageError(f"cannot write `{Path(table).name}`: it must end in .csv or .parquet")
    if find_spec("pyarrow") is None:
        raise UsageError("Parquet needs the extra: pip install '.[parquet]' in the clone")
    return study_parquet


def study_parquet(plan: Plan, rows: Iterable[Row], stream: BinaryIO) -> None:
    """Write the rows as Parquet, group by group."""
    import pyarrow
    from pyarrow import parquet

    names, listed = head(plan), len(plan.variables) - len(plan.study.ranged)
    words, reals, counts = pyarrow.string(), pyarrow.float64(), pyarrow.int64()
    kinds = [
        counts,
        *([words] * listed),
        *([reals] * len(plan.study.ranged)),
        *(reals if RESULTS[name].unit else counts for name in plan.study.results),
        words,
    ]
    schema = pyarrow.schema(list(zip(names, kinds, strict=True)), {"writer": MARK})
    more = iter(rows)
    with parquet.ParquetWriter(stream, schema) as writer:
        while group := list(islice(more, _GROUP)):
            cells = [
                (
                    row.number,
                    *(shown(one) if isinstance(one, str) else one for one in row.values),
                    *row.results,
                    shown(row.fault),
                )
                for row in group
            ]
            columns = zip(*cells, strict=True)
            arrays = [pyarrow.array(one, kind) for one, kind in zip(columns, kinds, strict=True)]
            writer.write_table(pyarrow.Table.from_arrays(arrays, schema=schema))
