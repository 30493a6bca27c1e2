"""Whose rules the checks follow, and where assumed values are from."""

from __future__ import annotations

from plumbing.checks.registry import checks
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.report.subject import Subject

_COLUMNS = (Column("source"), Column("rules of"), Column("assumed values"))


def sources(subject: Subject) -> Table:
    """Sources of the rules that were found broken or could not be checked, and of assumptions."""
    named = {one.check for one in subject.examined.findings} | set(subject.lacking())
    rules: dict[str, list[str]] = {}
    for check in checks():
        if check.name in named:
            rules.setdefault(check.source, []).append(check.name)
    assumed = {source: len(values) for source, values in subject.assumed().items()}
    rows: list[tuple[Cell, ...]] = [
        (source, ", ".join(rules.get(source, ())), float(assumed.get(source, 0)))
        for source in sorted({*rules, *assumed})
    ]
    notes = ("`plumbing explain NAME` gives the reason, limit and source of every check.",)
    return Table("sources", "Sources", _COLUMNS, tuple(rows), notes)
