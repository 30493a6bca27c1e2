"""What `plumbing check` prints: a screen with a line for each cause; in full, all it rests on."""

import textwrap

from plumbing.checks.run import Verdict
from plumbing.findings import Cause, Finding, Severity
from plumbing.report.fly_text import flight_section
from plumbing.report.grouped import following
from plumbing.report.page import Page, cut
from plumbing.report.peak_text import peak_section
from plumbing.report.subject import Subject
from plumbing.report.words import MEANING, compared, counted, sentence
from plumbing.results import NotComputed, known
from plumbing.stage import reached

_LABELS = {"why": "why", "advice": "cure", "source": "rule"}
_TAKEN = 4  # accepted findings and changed limits that a screen lists
_OPEN = 3  # open questions that a screen lists
_NEXT = 3  # things to measure next that it names
_ROWS = 22  # of a screen of 24: one is the prompt, one the command


def check_text(subject: Subject, width: int = 80, colour: bool = False, full: bool = False) -> str:
    """Write the verdict and a line for each cause, the worst first.

    Parameters
    ----------
    subject : Subject
        The examined layout.
    width : int
        Columns.
    colour : bool
        Whether terminal colours are wanted.
    full : bool
        Before them, every finding, peak flow, the flight, unchecked checks and assumptions.

    Returns
    -------
    str
        Text without a final line break; without `full` at most 23 lines of it.
    """
    examined = subject.examined
    page = Page.about(examined.case.layout, width, colour)
    if full:
        for cause in examined.causes:
            _cause(page, cause)
        peak_section(page, examined.case)
        flight = examined.case.flight
        if known(flight):
            flight_section(page, flight)
        _unchecked(page, examined.verdict)
        _due(page, subject)
        _assumptions(page, subject)
        page.caution()
    _screen(page, subject, full)
    return page.text()


def _screen(page: Page, subject: Subject, full: bool) -> None:
    causes, verdict = subject.examined.causes, subject.examined.verdict
    page.partial(verdict.partial)
    page.blank()
    page.line(sentence(subject.verdict()), bold=True)
    if verdict.not_judged and subject.worst is Severity.UNSAFE:
        missing = ", ".join(dict.fromkeys(one.what for one in verdict.not_judged))
        page.line(cut(f"Not judged: {missing}", page.width), bold=True)
    page.paragraph(sentence(subject.summary()))
    if subject.due():
        page.line(cut(sentence(subject.due()), page.width))
    taken = subject.taken_on()
    for words in taken if full else taken[:_TAKEN]:
        page.line(cut(f"  {words}", page.width))
    if len(taken) > _TAKEN and not full:
        page.line(f"  and {len(taken) - _TAKEN} more accepted or changed: --full lists them")
    opened = opened_rows(subject, page.width, full)
    if not causes:
        _opened(page, opened)
        return
    page.blank()
    rows = [(row, bold) for one in causes for row, bold in _rows(one, page.width)]
    room = _ROWS - page.height - 2 - len(opened)
    if not full and len(rows) > room:
        rows = _fitting(causes, page.width, room)
    for row, bold in rows:
        page.line(row, bold=bold)
    _opened(page, opened)
    page.blank()
    page.line("Reasons: plumbing explain NAME, or --full; cures: plumbing remedy LAYOUT NUMBER")


def opened_rows(subject: Subject, width: int, full: bool) -> list[str]:
    """Open questions and what to measure next, in few rows; none where nothing is left out."""
    verdict = subject.examined.verdict
    if not verdict.questions and not verdict.measure:
        return []
    worst = sorted(verdict.questions, key=lambda one: one.finding.severity.rank)
    most = len(worst) if full else _OPEN
    rows = ["Questions, by what the file leaves out:"] if worst else []
    for one in worst[:most]:
        finding = one.finding
        said = f"  ?  {finding.severity:<6} {finding.check}: {finding.part or 'whole layout'}"
        rows.append(cut("; ".join(filter(None, (said, compared(finding)))), width))
    if len(worst) > most:
        rows.append(f"     and {len(worst) - most} more")
    named = [one.guess.words for one in verdict.measure[: None if full else _NEXT]]
    if named:
        words = f"Measure next: {'; '.join(named)}. As a form: plumbing measure LAYOUT"
        rows += textwrap.wrap(words, width, subsequent_indent="  ")
    return ["", *rows]


def _opened(page: Page, rows: list[str]) -> None:
    for row in rows:
        page.line(row)


def _fitting(causes: tuple[Cause, ...], width: int, room: int) -> list[tuple[str, bool]]:
    """As many causes as there is room for, the worst first, and how many more there are."""
    rows: list[tuple[str, bool]] = []
    for number, one in enumerate(causes):
        own = _rows(one, width)
        if len(rows) + len(own) > room - 1:
            return [*rows, (f"     and {len(causes) - number} more", False)]
        rows += own
    return rows


def _rows(cause: Cause, width: int) -> list[tuple[str, bool]]:
    """A cause in one row, and its best remedy in two at most."""
    row = f"{cause.number:>3} {cause.severity:<6} {cause.finding.check}: {_where(cause)}"
    said = [row, compared(cause.finding) if len(cause.findings) == 1 else ""]
    if cause.follows:
        follow = counted(len(cause.follows), "more follows", "more follow")
        said.append(follow if cause.sure else f"probably {follow}")
    rows = [(cut("; ".join(filter(None, said)), width), cause.severity is not Severity.ADVICE)]
    for remedy in cause.finding.remedies[:1]:
        words = f"{remedy.change}: {remedy.buys}; costs {remedy.costs}"
        first, *rest = textwrap.wrap(words, width - 11)
        rows.append((f"        -> {first}", False))
        rows += [(cut(f"           {' '.join(rest)}", width), False)] if rest else []
    return rows


def _where(cause: Cause) -> str:
    parts = list(dict.fromkeys(one.part or "whole layout" for one in cause.findings))
    more = f" and {len(parts) - 2} more" if len(parts) > 2 else ""
    return ", ".join(parts[:2]) + more


def _cause(page: Page, cause: Cause) -> None:
    """Write a cause: its findings, what they share, and what follows from it."""
    page.severity(cause.severity, MEANING[cause.severity])
    page.line(f"{cause.number:>3}  {cause.finding.check}", bold=True)
    for finding in cause.findings:
        _finding(page, finding)
    for label in ("why", "advice", "source"):
        for text in dict.fromkeys(getattr(finding, label) for finding in cause.findings):
            page.paragraph(text, indent=5, label=_LABELS[label])
    label = "follows" if cause.sure else "probably"
    for words in following(cause):
        page.paragraph(words, indent=5, label=label)
        label = " "


def _finding(page: Page, finding: Finding) -> None:
    where = f"line {finding.place.line}" if finding.place.line else ""
    head = f"     {finding.part or 'whole layout'}"
    page.line(f"{head}{where:>{max(len(where) + 2, page.width - len(head))}}")
    page.paragraph(finding.what, indent=5)
    page.paragraph(
        "; ".join(filter(None, (compared(finding), finding.doubt))), indent=5, label="measured"
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


def _due(page: Page, subject: Subject) -> None:
    """Write what is to be done before each later stage."""
    now = subject.examined.verdict.stage
    for stage, found in subject.open().items():
        if found and not reached(now, stage):
            page.heading(f"Due when {stage}", "not clear: to be done, measured and written down")
            for one in found:
                page.paragraph(f"{one.statement}: {one.state}. {one.what}", indent=2)


def _assumptions(page: Page, subject: Subject) -> None:
    by_source = subject.assumed()
    if not by_source:
        return
    page.heading("Assumed", "not in the file")
    for source, values in by_source.items():
        page.paragraph(source, indent=2, bold=True)
        page.paragraph("; ".join(f"{what}: {value}" for what, value in values), indent=4)
