"""Measured values beside predicted ones: as text, as JSON, as CSV."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from io import StringIO
from typing import Any

from plumbing import units
from plumbing.findings import Figure
from plumbing.model.layout import Layout
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.page import Page
from plumbing.report.sweep_schema import asbuilt_schema
from plumbing.report.words import counted, figure, harmless, reasons, sentence
from plumbing.studies.bench import Compared, Moved


def asbuilt_text(
    layout: Layout, compared: Sequence[Compared], width: int = 80, colour: bool = False
) -> str:
    """Write the comparison for a terminal.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    page.heading("As built", summary(compared))
    if not compared:
        page.paragraph(
            "The file states nothing under `measured:`. Add what was measured on the bench, such "
            "as `gauge: {what: inlet-suction, pressure: 4 kPa, at-flow: 300 ml/min}`; or write an "
            "empty form with `--write-form`, fill it in and judge it with `--readings`.",
            indent=2,
        )
    for one in compared:
        page.blank()
        _one(page, one)
    page.caution()
    return page.text()


def summary(compared: Sequence[Compared]) -> str:
    """How many values lie inside their band and how many not, and how many beyond their limit."""
    inside = sum(one.verdict == "inside" for one in compared)
    outside = sum(one.verdict in ("above", "below") for one in compared)
    beyond = sum(one.passes is False for one in compared)
    rest = len(compared) - inside - outside
    said = f"{counted(len(compared), 'value')}: {inside} inside, {outside} outside the band"
    said += f", {rest} not compared" if rest else ""
    return said + (f"; {beyond} BEYOND THE LIMIT" if beyond else "")


def _one(page: Page, one: Compared) -> None:
    part = f" at {one.measured.part}" if one.measured.part else ""
    where = f"line {one.measured.place.line}" if one.measured.place.line else ""
    head = f"{one.measured.name}: {one.measured.what}{part}"
    page.line(f"{head}{where:>{max(len(where) + 2, page.width - len(head))}}", bold=True)
    if one.value is not None:
        page.paragraph(f"{figure(one.value)}, {_said(one)}", indent=2, label="measured")
    elif one.verdict == "no value":
        page.paragraph("no value of the right kind (a pressure, volume, time or flow)", indent=2)
    _held_to(page, one)
    if one.meaning is not None:
        page.paragraph(one.meaning.words, indent=2, label="suspect")
        if one.meaning.fitted:
            page.paragraph(one.meaning.fitted, indent=2, label="fitted")
    for each in one.moved:
        page.paragraph(_move(each), indent=2, label="moves")
    noted = (one.measured.on, one.measured.by, one.measured.instrument)
    if any(noted):
        page.paragraph(", ".join(filter(None, noted)), indent=2, label="noted")


def _held_to(page: Page, one: Compared) -> None:
    """Prediction and limit of a value, or why there is neither."""
    if one.prediction is not None:
        page.paragraph(figure(one.prediction.figure), indent=2, label="expected")
        page.paragraph(one.prediction.how, indent=2, label="that is")
    elif one.mark is None:
        page.paragraph("nothing can be predicted for it in this layout", indent=2)
        for why in one.missing:
            page.paragraph(sentence(str(why)), indent=2)
    if one.mark is not None:
        said = f"{one.mark.words()}, {one.mark.rule}: {_passed(one)}"
        page.paragraph(said, indent=2, label="limit")


def _passed(one: Compared) -> str:
    if one.passes is not None:
        return "passed" if one.passes else "FAILED"
    flow = one.mark.flow if one.mark else None
    needed = f"; measure at {units.show(flow, 'flow')}" if flow else ""
    return f"not shown by this reading{needed}"


def _move(moved: Moved) -> str:
    place = f" at {moved.part}" if moved.part else f", {moved.state}" if moved.state else ""
    before, after = (units.show(one.value, one.kind) for one in (moved.before, moved.after))
    beyond = f", BEYOND THE LIMIT, {moved.mark.words()}" if moved.mark and moved.beyond else ""
    return f"{moved.what}{place}: {after} instead of {before}{beyond}"


def _said(one: Compared) -> str:
    return {
        "inside": "inside the band",
        "not predicted": "nothing predicted",
        "above": "ABOVE the band",
        "below": "BELOW the band",
    }.get(one.verdict, one.verdict)


def asbuilt_json(layout: Layout, compared: Sequence[Compared]) -> str:
    """Write the comparison as JSON, values in SI with their unit."""
    data = {
        "title": layout.title,
        "file": layout.place.file,
        "measured": [_data(one) for one in compared],
    }
    return json_text(keyed(data, asbuilt_schema()))


def _data(one: Compared) -> dict[str, Any]:
    return {
        "name": one.measured.name,
        "what": one.measured.what,
        "part": one.measured.part,
        "on": one.measured.on,
        "line": one.measured.place.line,
        "measured": one.value,
        "expected": one.prediction.figure if one.prediction else None,
        "conditions": one.prediction.how if one.prediction else None,
        "verdict": one.verdict,
        "not_computed": reasons(one.missing),
        "suspects": one.meaning.words if one.meaning else None,
        "fitted": one.meaning.fitted if one.meaning else None,
        "fitted_value": one.meaning.value if one.meaning else None,
        "state": one.measured.state,
        "by": one.measured.by,
        "instrument": one.measured.instrument,
        "limit": one.mark.words() if one.mark else None,
        "rule": one.mark.rule if one.mark else None,
        "passes": one.passes,
        "moved": [
            {
                "what": each.what,
                "part": each.part,
                "state": each.state,
                "before": each.before,
                "after": each.after,
                "beyond": each.beyond,
            }
            for each in one.moved
        ],
    }


def asbuilt_csv(compared: Sequence[Compared]) -> str:
    """Write the comparison as CSV, a row a measurement, each with its unit in the cell."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(
        [
            *("name", "what", "part", "measured", "expected", "at least", "at most", "verdict"),
            *("fitted", "state", "limit", "passed"),
        ]
    )
    for one in compared:
        expected = one.prediction.figure if one.prediction else None
        bounds = (None, None, None) if expected is None else _bounds(expected)
        kind = expected.kind if expected else ""
        cells = [
            one.measured.name,
            one.measured.what,
            one.measured.part or "",
            "" if one.value is None else units.show(one.value.value, one.value.kind, 4),
            *("" if value is None else units.show(value, kind, 4) for value in bounds),
            one.verdict,
            one.meaning.fitted if one.meaning else "",
            one.measured.state or "",
            one.mark.words() if one.mark else "",
            {True: "yes", False: "no", None: ""}[one.passes],
        ]
        writer.writerow([harmless(cell) for cell in cells])
    return out.getvalue()


def _bounds(expected: Figure) -> tuple[float, float | None, float | None]:
    return expected.value, expected.low, expected.high
