"""What `plumbing explain` prints; the manual's page of checks is made from the same text."""

from plumbing.checks.kit import Check
from plumbing.checks.registry import SUBJECTS, checks
from plumbing.layout.known import TITLES
from plumbing.report.page import Page
from plumbing.report.words import listed


def check_page(check: Check, width: int = 80) -> str:
    """Write one check's page."""
    page = Page(width, colour=False)
    page.heading(check.name, f"{check.severity.value}, {check.subject}")
    page.paragraph(check.title)
    page.blank()
    page.paragraph(check.why, label="why")
    page.paragraph(check.cure, label="cure")
    page.paragraph(check.source, label="rule")
    if check.limit is not None:
        page.paragraph(f"{check.limit.text}; set your own in the layout file:", label="limit")
        page.line(f"             limits: {{{check.name}: {check.limit.text}}}")
    for words, fragment in (("Found in", check.bad), ("Not found in", check.good)):
        page.blank()
        page.line(f"{words} the starter {check.starter} with:", bold=True)
        for line in fragment.splitlines():
            page.line(f"    {line}".rstrip())
    return page.text()


def all_checks_text(width: int = 80) -> str:
    """List every check by subject, with its severity and title."""
    page = Page(width, colour=False)
    for subject in SUBJECTS:
        group = [check for check in checks() if check.subject == subject]
        if not group:
            continue
        page.heading(subject.capitalize())
        for check in group:
            page.line(f"{check.name}  [{check.severity.value}]")
            page.paragraph(check.title, indent=4)
    page.blank()
    page.line(f"{len(checks())} checks. `plumbing explain NAME` says more.")
    page.paragraph(f"NAME may also be a list: {listed(tuple(TITLES), 'or')}.")
    return page.text()
