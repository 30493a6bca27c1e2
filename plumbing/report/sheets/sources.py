"""Whose rules the checks follow, and where assumed values are from."""

from __future__ import annotations

from plumbing.checks.registry import checks
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.report.subject import Subject

_COLUMNS = (Column("source"), Column("rules and values"), Column("how many"))


def sources(subject: Subject) -> Table:
    """Sources of the rules that were found broken or could not be checked, and of assumptions."""
    named = {one.check for one in subject.examined.findings} | set(subject.lacking())
    rules: dict[str, list[str]] = {}
    for check in checks():
        if check.name in named:
            rules.setdefault(check.source, []).append(check.name)
    for source, values in subject.assumed().items():
        rules.setdefault(source, []).extend(what for what, _ in values)
    rows: list[tuple[Cell, ...]] = [
        (source, ", ".join(names), float(len(names))) for source, names in sorted(rules.items())
    ]
    notes = ("`plumbing explain NAME` gives the reason, limit and source of every check.",)
    return Table("sources", "Sources", _COLUMNS, tuple(rows), notes)
