"""Subjects of reports, examined once for all tests."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from plumbing import api
from plumbing.checks.case import Case
from plumbing.checks.examined import Examined
from plumbing.checks.run import Verdict
from plumbing.findings import Finding, Severity
from plumbing.report.html import html_page
from plumbing.report.subject import Subject

LAYOUTS = Path(__file__).parents[2] / "layouts"
MARKUP = '</script><b>&"x"</b>'


@cache
def subject(name: str) -> Subject:
    """A demo aircraft, ready to report."""
    return Subject(api.check(LAYOUTS / f"{name}.yaml"), "1 May 2026")


@cache
def page(name: str) -> str:
    """Its page."""
    return html_page(subject(name))


def hostile() -> Subject:
    """A subject whose title and findings are full of markup."""
    case = Case(replace(subject("teed-pair").examined.case.layout, title=MARKUP, notes=MARKUP))
    findings = tuple(
        Finding(f"check-{MARKUP}", severity, MARKUP, f"what {MARKUP}", parts=("port", MARKUP))
        for severity in Severity
    )
    return Subject(Examined(case, Verdict(findings, (), ())), MARKUP)


def crowded(count: int = 200) -> Subject:
    """A subject with very many findings."""
    case = subject("teed-pair").examined.case
    parts = [*case.layout.tanks, *case.layout.lines, *case.layout.tees]
    findings = tuple(
        Finding(
            f"check-{number // 4}",
            list(Severity)[min(number * 3 // count, 2)],
            parts[number % len(parts)],
            "Something is wrong here, and it takes a sentence to say it.",
            why="Because.",
            advice="Change it.",
        )
        for number in range(count)
    )
    return Subject(Examined(case, Verdict(findings, (), ())), "1 May 2026")
