"""What changed since an earlier state of the layout, and what it reopens."""

from __future__ import annotations

from collections.abc import Sequence

from plumbing.findings import Finding
from plumbing.report.comparison import Change, Comparison
from plumbing.report.schedules.table import Cell, Column, Table

_CHANGE = (Column("what"), Column("before"), Column("now"))
_FINDING = (Column("state"), Column("severity"), Column("check"), Column("part"))


def revision(found: Comparison | None) -> list[Table]:
    """Tables of the changes; none where there is no earlier state to compare with."""
    if found is None:
        return []
    outcome, file = found.outcome, found.before.case.layout.place.file
    findings = [
        *_findings("gone", outcome.clears),
        *_findings("eased", [now for _, now in outcome.eases]),
        *_findings("new", outcome.spoils),
    ]
    tests: list[tuple[Cell, ...]] = [(one, "open") for one in found.tests]
    return [
        _changes("changes", f"Changed since {file}", found.changes),
        Table("findings", "Findings gone and new", _FINDING, tuple(findings), ()),
        _changes("measure", "To be measured again", found.predictions),
        Table("test", "To be tested again", (Column("test"), Column("state")), tuple(tests), ()),
    ]


def _changes(name: str, title: str, changes: Sequence[Change]) -> Table:
    rows: list[tuple[Cell, ...]] = [(one.what, one.before, one.after) for one in changes]
    return Table(name, title, _CHANGE, tuple(rows), ())


def _findings(state: str, findings: Sequence[Finding]) -> list[tuple[Cell, ...]]:
    return [(state, str(one.severity), one.check, one.part) for one in findings]
