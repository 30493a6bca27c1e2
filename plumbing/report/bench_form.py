"""The form of the bench tests as CSV, and its readings as lines for the layout file."""

from __future__ import annotations

import csv
import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from io import StringIO

from plumbing import units
from plumbing.checks.case import Case
from plumbing.checks.evidence import proofs, unmet
from plumbing.checks.pass_marks import pass_marks
from plumbing.layout.differences import plain
from plumbing.layout.edit import flow
from plumbing.layout.forms import Record
from plumbing.layout.readings import COLUMNS
from plumbing.model.layout import Layout
from plumbing.model.measured import Measured
from plumbing.report.cards.bench import by_test
from plumbing.report.words import harmless
from plumbing.studies.bench import Reading, predict, readings

_WIDEST = 99  # columns


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


def bench_lines(layout: Layout, read: Iterable[Measured]) -> str:
    """Write readings as the lines under `measured:` of a layout, and say what they prove.

    Parameters
    ----------
    layout : Layout
        The layout, perhaps with readings of its own.
    read : iterable of Measured
        Readings of a form.
    """
    named = {one.name: one for one in _named(read)}
    case = Case(replace(layout, measured={**layout.measured, **named}))
    proved = [one.statement for one in proofs(case)]
    missing = [f"{one.what} {one.part}".strip() for one in unmet(case)]
    rows = [
        *_comment("Evidence for", proved),
        *_comment("Not met by a reading that passed, is dated and signed", missing),
        "measured:",
        *(row for one in named.values() for row in _lines(one)),
    ]
    return "\n".join(rows)


def _named(read: Iterable[Measured]) -> Iterator[Measured]:
    """Readings with a name of their own: what and where, with a number from the second on."""
    seen: Counter[str] = Counter()
    for one in read:
        name = f"{one.what} {one.part or ''}".strip()[:36]
        seen[name] += 1
        yield replace(one, name=name if seen[name] == 1 else f"{name} {seen[name]}")


def _comment(head: str, names: list[str]) -> list[str]:
    if not names:
        return []
    return textwrap.wrap(
        f"{head}: {', '.join(names)}.",
        _WIDEST,
        initial_indent="# ",
        subsequent_indent="#   ",
        break_on_hyphens=False,
    )


def _lines(one: Measured) -> list[str]:
    """A reading under its name, broken between its values only."""
    values = plain(Record(Measured), one)
    assert isinstance(values, dict)
    rows = [f"  {one.name}: {{"]
    for key, value in values.items():
        said = f"{key}: {flow(value)}, "
        if len(rows[-1]) + len(said) > _WIDEST:
            rows.append("    ")
        rows[-1] += said
    return [row.rstrip() for row in (*rows[:-1], rows[-1].removesuffix(", ") + "}")]
