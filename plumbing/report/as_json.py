"""Results of a check as JSON: stable names, SI values with their unit, never a not-a-number."""

from typing import Any

from plumbing.checks.examined import Examined
from plumbing.report.evidence import evidence
from plumbing.report.fly_json import fly_data
from plumbing.report.json_schema import check_schema
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.measure_text import measure_rows
from plumbing.report.words import reasons
from plumbing.results import known


def check_json(examined: Examined) -> str:
    """Write the findings and results of a check.

    Returns
    -------
    str
        JSON text; every value is SI with its unit beside it.
    """
    return json_text(check_data(examined))


def check_data(examined: Examined) -> dict[str, Any]:
    """Give the same as plain data."""
    layout, verdict = examined.case.layout, examined.verdict
    flight = examined.case.flight
    data = {
        "title": layout.title,
        "file": layout.place.file,
        "findings": verdict.findings,
        "causes": examined.causes,
        "unchecked": [
            {
                "check": one.check,
                "missing": one.missing,
                "why": "" if one.why is None else str(one.why),
                "part": one.part,
                "line": one.place.line,
            }
            for one in verdict.unchecked
        ],
        "clear": verdict.clear,
        "stage": verdict.stage,
        "due": verdict.due,
        "evidence": evidence(examined),
        "questions": [
            {"finding": one.finding, "usual": one.usual, "measure": one.measure}
            for one in verdict.questions
        ],
        "measure": measure_rows(verdict),
        "accepted": [
            {
                "check": one.finding.check,
                "part": one.finding.part,
                "what": one.finding.what,
                "reason": one.accepted.reason,
                "by": one.accepted.by,
                "on": one.accepted.on,
            }
            for one in verdict.accepted
        ],
        "changed_limits": [
            {"check": one.check, "limit": one.texts[0], "usual": one.texts[1]}
            for one in verdict.limits
        ],
        "peak_flow": examined.case.peak.engines,
        "not_computed": reasons(verdict.not_computed),
        "partial": verdict.partial,
        "flight": fly_data(flight) if known(flight) else None,
        "assumptions": examined.case.assumptions,
    }
    checked: dict[str, Any] = keyed(data, check_schema())
    return checked
