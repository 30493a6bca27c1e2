"""What `plumbing remedy` prints: remedies that help, what each clears, spoils and costs."""

from plumbing.checks.examined import Remedied
from plumbing.checks.remedied import eased
from plumbing.findings import Finding
from plumbing.report.page import Page
from plumbing.studies.remedies import Outcome


def remedy_text(found: Remedied, width: int = 80, colour: bool = False) -> str:
    """Write remedies, best first.

    Parameters
    ----------
    found : Remedied
        The result.
    width : int
        Columns.
    colour : bool
        Whether terminal colours are wanted.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(found.examined.case.layout, width, colour)
    page.heading("Remedies tried", "each on a copy, alone, by the whole check")
    if not found.outcomes:
        page.paragraph("No remedy of this program's own helps here.", indent=2)
        for words in dict.fromkeys(one.finding.advice for one in found.causes):
            page.paragraph(words, indent=2, label="cure")
    for number, outcome in enumerate(found.outcomes, start=1):
        _outcome(page, number, outcome)
    page.caution()
    return page.text()


def _outcome(page: Page, number: int, outcome: Outcome) -> None:
    page.blank()
    page.paragraph(outcome.proposal.change, indent=2, label=f"{number}")
    page.paragraph(outcome.proposal.costs, indent=4, label="costs")
    did(page, outcome)


def did(page: Page, outcome: Outcome) -> None:
    """Write what a change clears, eases and spoils."""
    eases = [f"{one.check} at {one.part} {eased(one, now)}" for one, now in outcome.eases]
    page.paragraph(_listed(outcome.clears), indent=4, label="clears")
    page.paragraph("; ".join(eases), indent=4, label="eases")
    page.paragraph(_listed(outcome.spoils) or "nothing", indent=4, label="brings")


def _listed(findings: tuple[Finding, ...]) -> str:
    by_check: dict[str, list[str]] = {}
    for one in findings:
        by_check.setdefault(f"{one.check} ({one.severity})", []).append(one.part)
    return "; ".join(f"{check} at {', '.join(parts)}" for check, parts in by_check.items())
