"""The logbook for a terminal."""

from __future__ import annotations

from plumbing.model.layout import Layout
from plumbing.report.page import Page
from plumbing.report.sheets.logbook import BURN_NOTE, burn_rows, due_row, slope_of
from plumbing.report.words import compared, counted, figure, sentence
from plumbing.results import NotComputed
from plumbing.studies.logbook import Logged, Trend
from plumbing.units import show


def logbook_text(
    layout: Layout, found: Logged | NotComputed, width: int = 80, colour: bool = False
) -> str:
    """Write what a logbook tells for a terminal.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    if isinstance(found, NotComputed):
        page.heading("Logbook")
        page.paragraph(
            sentence(found.reason) + " `--add flight --filled '2.4 L' --left '0.9 L' --time "
            "'8 min'` begins one.",
            indent=2,
        )
        return page.text()
    said = f"{counted(len(found.entries), 'row')}, {found.hours:.1f} h run"
    page.heading("Logbook", said)
    for one in found.findings:
        page.severity(one.severity, one.part)
        page.paragraph(one.what, indent=2)
        if compared(one):
            page.paragraph(compared(one), indent=2, label="measured")
        page.paragraph(one.advice, indent=2, label="cure")
    page.heading("Timer and reserve as flown")
    if isinstance(found.burn, NotComputed):
        page.paragraph(sentence(found.burn.reason), indent=2)
    else:
        for name, value in burn_rows(found.burn):
            page.line(f"  {name:<26}{value}")
        page.paragraph(BURN_NOTE, indent=2)
    for trend in found.trends:
        _trend(page, trend)
    page.heading("Due", f"as of {found.today.isoformat()}")
    for row in map(due_row, found.due):
        part, job, done, on, hours, fuel, state = row
        page.line(f"  {on}  {part}: {job}{f'  {state}' if state else ''}")
        page.paragraph(f"done {done}; since then {hours}, {fuel}", indent=14)
    page.caution()
    return page.text()


def _trend(page: Page, one: Trend) -> None:
    where = f" at {one.part}" if one.part else ""
    page.heading(f"{one.what[:1].upper()}{one.what[1:]}{where}", "BEYOND" if one.beyond else "")
    page.line(f"  {'trend':<26}{slope_of(one)}")
    page.line(f"  {'now':<26}{figure(one.now)}, {counted(len(one.values), 'reading')}")
    limits = [show(limit, one.kind) for limit in (one.least, one.most) if limit is not None]
    if limits:
        page.line(f"  {'limit':<26}{' to '.join(limits)}")
    if one.hours_left is not None:
        page.line(f"  {'limit reached':<26}in {one.hours_left:.2g} h of running")
