"""The empty form of the bench tests, as CSV: a row a reading, to be filled in and read back."""

from __future__ import annotations

import csv
from io import StringIO

from plumbing import units
from plumbing.checks.case import Case
from plumbing.checks.pass_marks import pass_marks
from plumbing.layout.readings import COLUMNS
from plumbing.report.cards.bench import by_test
from plumbing.report.words import harmless
from plumbing.studies.bench import Reading, predict, readings


def bench_form(case: Case) -> str:
    """Write the form of a layout; what is to be filled in is empty."""
    predicted = predict(
        case.layout, case.survey, case.peak, parkings=case.parking, fillings=case.filling
    )
    out = StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\n")
    writer.writeheader()
    for number, one in by_test(readings(predicted, pass_marks(case))):
        writer.writerow({name: harmless(cell) for name, cell in _cells(number, one).items()})
    return out.getvalue()


def _cells(number: int, one: Reading) -> dict[str, str]:
    value = one.figure
    shown = (value.value, value.low, value.high) if value else ()
    kind = value.kind if value else ""
    figures = ["" if each is None else units.show(each, kind, 4) for each in shown] or [""] * 3
    return {
        "test": str(number),
        "what": one.what,
        "part": one.part,
        "state": one.state,
        "conditions": one.how,
        **dict(zip(("predicted", "band from", "band to"), figures, strict=True)),
        "limit": one.mark.words() if one.mark else "",
    }
