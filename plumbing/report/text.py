"""What `plumbing check` prints: findings first, then the numbers they rest on."""

from itertools import groupby

from plumbing.checks.run import Examined, Verdict
from plumbing.findings import Finding, Severity
from plumbing.report.fly_text import flight_section
from plumbing.report.page import Page
from plumbing.report.peak_text import peak_section
from plumbing.report.words import MEANING, counted, figure, sentence
from plumbing.results import NotComputed, known

_LABELS = {"why": "why", "advice": "cure", "source": "rule"}


def check_text(
    examined: Examined, width: int = 80, colour: bool = False, brief: bool = False
) -> str:
    """Write findings, peak flow, unchecked checks and assumptions.

    Parameters
    ----------
    examined : Examined
        The layout with results and verdict.
    width : int
        Columns.
    colour : bool
        Whether terminal colours are wanted.
    brief : bool
        Findings only.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(examined.case.layout, width, colour)
    _summary(page, examined)
    _findings(page, examined.findings)
    if not brief:
        peak_section(page, examined.case)
        flight = examined.case.flight
        if known(flight):
            flight_section(page, flight)
        _unchecked(page, examined.verdict)
        _assumptions(page, examined)
        page.caution()
    return page.text()


def _summary(page: Page, examined: Examined) -> None:
    verdict = examined.verdict
    page.partial(verdict.partial)
    counts = [
        counted(number, severity.value, severity.value if severity != Severity.FAULT else "faults")
        for severity in Severity
        if (number := sum(f.severity == severity for f in verdict.findings))
    ]
    page.blank()
    found = ", ".join(counts) if counts else "no findings"
    if verdict.not_judged:
        missing = ", ".join(dict.fromkeys(one.what for one in verdict.not_judged))
        page.paragraph(f"Not judged: {missing}", bold=True)
    unchecked = len({one.check for one in verdict.unchecked})
    page.line(
        f"{found}; {len(verdict.clear)} checks clear, {unchecked} unchecked",
        bold=True,
    )


def _findings(page: Page, findings: tuple[Finding, ...]) -> None:
    """Write the findings by severity, those of one check together."""
    numbered = list(enumerate(findings, 1))
    for severity, group in groupby(numbered, key=lambda pair: pair[1].severity):
        page.severity(severity, MEANING[severity])
        for check, same in groupby(group, key=lambda pair: pair[1].check):
            page.blank()
            page.line(check, bold=True)
            _of_one_check(page, list(same))


def _of_one_check(page: Page, same: list[tuple[int, Finding]]) -> None:
    """Write the findings of one check, then what they share."""
    for number, finding in same:
        _finding(page, number, finding)
    for label in ("why", "advice", "source"):
        words = dict.fromkeys(getattr(finding, label) for _, finding in same)
        for text in words:
            page.paragraph(text, indent=5, label=_LABELS[label])


def _finding(page: Page, number: int, finding: Finding) -> None:
    where = f"line {finding.place.line}" if finding.place.line else ""
    head = f"{number:>3}  {finding.part}"
    page.line(f"{head}{where:>{max(len(where) + 2, page.width - len(head))}}")
    page.paragraph(finding.what, indent=5)
    if finding.measured and finding.allowed:
        sure = "; the band crosses the limit, so this is not certain" if finding.uncertain else ""
        page.paragraph(
            f"{figure(finding.measured)}, limit {figure(finding.allowed)}{sure}",
            indent=5,
            label="measured",
        )
    for remedy in finding.remedies:
        page.paragraph(
            f"{remedy.change}: {remedy.buys}; costs {remedy.costs}", indent=5, label="tried"
        )


def _unchecked(page: Page, verdict: Verdict) -> None:
    """Write what could not be judged: by the reason where there is one, else by check."""
    because: dict[NotComputed, list[str]] = {}
    lacking: dict[str, list[str]] = {}
    for one in verdict.unchecked:
        if one.why is None:
            lacking.setdefault(one.check, []).append(one.missing)
        else:
            because.setdefault(one.why, []).append(one.check)
    if because:
        page.heading("Not computed", "not passed: what needs it is unchecked")
        for why, checks in because.items():
            page.paragraph(sentence(str(why)), indent=2)
            page.paragraph(f"unchecked: {', '.join(checks)}", indent=4)
    if lacking:
        page.heading("Unchecked", "not passed: the file lacks what they need")
        for check, missing in lacking.items():
            page.paragraph(f"{check}: needs {', '.join(missing)}", indent=2)


def _assumptions(page: Page, examined: Examined) -> None:
    assumptions = examined.case.assumptions
    if not assumptions:
        return
    page.heading("Assumed", "not in the file")
    by_source: dict[str, list[str]] = {}
    for one in assumptions:
        by_source.setdefault(one.source, []).append(f"{one.what}: {one.value}")
    for source, values in by_source.items():
        page.paragraph(source, indent=2, bold=True)
        page.paragraph("; ".join(values), indent=4)
