"""Findings of a layout by severity, for the tables of studies."""

from plumbing.checks.examined import examine
from plumbing.findings import Severity
from plumbing.model.layout import Layout


def counted(layout: Layout) -> dict[str, int]:
    """Number of findings of each severity, and of checks that lacked data as `unchecked`.

    Raises
    ------
    LayoutError
        The file sets a limit that does not exist.
    """
    verdict = examine(layout).verdict
    found = {one.value: 0 for one in Severity}
    for finding in verdict.findings:
        found[finding.severity.value] += 1
    return {**found, "unchecked": len(verdict.unchecked)}
