"""What `plumbing explain` prints of tubes, materials, kinds and usual values."""

from collections.abc import Mapping, Sequence

from plumbing.checks.kit import Check
from plumbing.layout.known import TITLES, Entry, known
from plumbing.report.page import Page

_MOST = 12  # lines of one list among what is alike


def list_page(name: str, width: int = 80) -> str:
    """Write one list, with its sources at the end."""
    entries, page = known()[name], Page(width, colour=False)
    page.heading(name.capitalize(), f"{len(entries)} entries")
    page.paragraph(TITLES[name] + ".")
    page.blank()
    if entries[0].values:
        _table(page, entries)
    else:
        for one in entries:
            page.line(one.name, bold=True)
            page.paragraph(one.words, indent=4)
    _sources(page, entries)
    return page.text()


def _table(page: Page, entries: Sequence[Entry]) -> None:
    titles = list(entries[0].values)
    page.table(["", *titles], [[one.name, *one.values.values()] for one in entries], indent=0)
    said = [one for one in entries if one.words]
    if said:
        page.heading("Worth knowing")
    for one in said:
        page.paragraph(f"{one.name}: {one.words}.")


def _sources(page: Page, entries: Sequence[Entry]) -> None:
    """Each source once, with what it is the source of."""
    by: dict[str, list[str]] = {}
    for one in entries:
        if one.source:
            by.setdefault(one.source, []).append(one.name)
    if by:
        page.heading("Sources")
    for source, names in by.items():
        whole = len(names) == len(entries)
        page.paragraph(f"{source}." if whole else f"{source}: {', '.join(names)}.")


def answer_page(
    word: str,
    named: Sequence[tuple[str, Entry]],
    checks: Sequence[Check],
    alike: Mapping[str, Sequence[Entry]],
    width: int = 80,
) -> str:
    """Write what has a name, and what else has it in its name or its words.

    Parameters
    ----------
    word : str
        What was asked for.
    named : sequence of (str, Entry)
        What has that very name, each with its list.
    checks : sequence of Check
        Checks about it.
    alike : mapping of str to sequence of Entry
        What else is about it, by list.
    width : int
        Columns.
    """
    page = Page(width, colour=False)
    for name, one in named:
        _entry(page, name, one)
    if checks:
        page.heading("Checks", f"about {word}")
        for check in checks:
            page.line(f"{check.name}  [{check.severity.value}]")
            page.paragraph(check.title, indent=4)
    for name, entries in alike.items():
        page.heading(name.capitalize(), f"about {word}")
        for one in entries[:_MOST]:
            page.paragraph(f"{one.name}: {one.text()}" if one.text() else one.name)
        if len(entries) > _MOST:
            page.line(f"and {len(entries) - _MOST} more: `plumbing explain {name}` lists all")
    return page.text()


def _entry(page: Page, name: str, one: Entry) -> None:
    page.heading(one.name, name)
    for title, value in one.values.items():
        page.line(f"{title:<20}{value}")
    if one.words:
        page.paragraph(one.words + ".")
    if one.source:
        page.paragraph(one.source, label="source")
