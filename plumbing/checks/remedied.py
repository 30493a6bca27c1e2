"""Remedies judged by the checks, and put beside the findings they help."""

from dataclasses import dataclass, replace

from plumbing import units
from plumbing.checks.case import Case
from plumbing.checks.registry import checks
from plumbing.checks.run import Examined, Verdict, judge
from plumbing.findings import Finding, Remedy
from plumbing.model.layout import Layout
from plumbing.studies.remedies import Ask, Judged, Outcome, tried

_MOST = 3  # remedies shown beside one finding


@dataclass(frozen=True, slots=True)
class Remedied:
    """An examined layout with the remedies that help.

    Attributes
    ----------
    examined : Examined
        The layout, its findings with their remedies beside them.
    outcomes : tuple of Outcome
        Remedies that help, best first.
    """

    examined: Examined
    outcomes: tuple[Outcome, ...]


def remedied(examined: Examined, check: str | None = None) -> Remedied:
    """Try remedies for what was found in a layout.

    Parameters
    ----------
    examined : Examined
        The layout with its findings.
    check : str, optional
        Only remedies for this check.
    """
    case, verdict = examined.case, examined.verdict
    before = Judged(
        verdict.findings,
        frozenset(one.name for one in checks()),
        frozenset(one.check for one in verdict.unchecked),
    )
    outcomes = tried(case.layout, case.survey, before, _judge, check)
    findings = tuple(_with_remedies(finding, outcomes) for finding in verdict.findings)
    changed = Verdict(findings, verdict.unchecked, verdict.clear)
    return Remedied(Examined(case, changed), outcomes)


def _judge(layout: Layout) -> Ask:
    """What the checks say of a layout; its results are computed once.

    Checks that rest on a result that takes long are asked only by name: a remedy for another
    check is not followed through every single fault and every drain.
    """
    case = Case(layout)

    def ask(subjects: frozenset[str], names: frozenset[str] | None) -> Judged:
        asked = [
            check
            for check in checks()
            if check.subject in subjects
            and (not check.rests_on if names is None else check.name in names)
        ]
        verdict = judge(case, asked)
        return Judged(
            verdict.findings,
            frozenset(check.name for check in asked),
            frozenset(one.check for one in verdict.unchecked),
        )

    return ask


def _with_remedies(finding: Finding, outcomes: tuple[Outcome, ...]) -> Finding:
    said = []
    for outcome in outcomes:
        buys = _bought(finding, outcome)
        if buys:
            said.append(Remedy(outcome.proposal.change, buys, _costs(outcome)))
    return replace(finding, remedies=tuple(said[:_MOST])) if said else finding


def _bought(finding: Finding, outcome: Outcome) -> str:
    """What a remedy brings for one finding, or nothing."""
    key = finding.check, finding.part
    if key in [(one.check, one.part) for one in outcome.clears]:
        others = len(outcome.clears) - 1
        return "clears this" + (f" and {others} other findings" if others else "")
    for before, after in outcome.eases:
        if (before.check, before.part) == key:
            return eased(before, after)
    return ""


def eased(before: Finding, after: Finding) -> str:
    """How far a measured value came, in words."""
    if before.measured is None or after.measured is None:
        return f"makes it {after.severity}"
    old, new = (units.show(one.value, one.kind) for one in (before.measured, after.measured))
    return f"from {old} to {new}"


def _costs(outcome: Outcome) -> str:
    spoilt = sorted({one.check for one in outcome.spoils})
    more = f"; brings {', '.join(spoilt)}" if spoilt else ""
    return outcome.proposal.costs + more
