"""A layout with its results, what the checks say of them, and what is to be mended."""

from functools import cached_property

from plumbing.checks.kit import Case
from plumbing.checks.registry import checks
from plumbing.checks.remedied import mended, remedies
from plumbing.checks.run import Verdict, judge
from plumbing.checks.weighed import weighed
from plumbing.findings import Cause, Finding
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.studies.remedies import Outcome


class Examined:
    """A layout with its results and what the checks made of them; read only.

    Attributes
    ----------
    case : Case
        The layout and its computed results.
    verdict : Verdict
        Findings, unchecked and clear checks.
    """

    def __init__(self, case: Case, verdict: Verdict) -> None:
        self.case = case
        self.verdict = verdict

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Findings, worst first."""
        return self.verdict.findings

    @cached_property
    def causes(self) -> tuple[Cause, ...]:
        """What is to be mended with what follows from it, worst first; worked out when asked."""
        return mended(self.case, self.verdict)


def examine(layout: Layout) -> Examined:
    """Compute what the checks need and run them all.

    Parameters
    ----------
    layout : Layout
        The layout.

    Raises
    ------
    LayoutError
        The file sets a limit that does not exist.
    """
    case = Case(layout)
    return Examined(case, weighed(case, judge(case, checks())))


@frozen
class Remedied:
    """What was tried to mend a layout.

    Attributes
    ----------
    examined : Examined
        The layout.
    causes : tuple of Cause
        What is to be mended.
    outcomes : tuple of Outcome
        Remedies that help, the good ones first.
    """

    examined: Examined
    causes: tuple[Cause, ...]
    outcomes: tuple[Outcome, ...]


def remedied(examined: Examined, check: str | None = None) -> Remedied:
    """Try remedies for what was found in a layout, each followed through the whole check.

    Parameters
    ----------
    examined : Examined
        The layout with its findings.
    check : str, optional
        Only remedies for this check.
    """
    wanted = frozenset(one.check for one in examined.findings if check in (None, one.check))
    causes = tuple(one for one in examined.causes if one.finding.check in wanted)
    outcomes = remedies(examined.case, examined.verdict, wanted)
    return Remedied(examined, causes, outcomes)
