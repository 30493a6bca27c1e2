"""Remedies judged by the whole check, and put beside the causes they mend."""

from collections.abc import Sequence
from dataclasses import replace

from plumbing import units
from plumbing.checks.case import Case
from plumbing.checks.causes import Mended, gathered, key
from plumbing.checks.registry import checks
from plumbing.checks.run import Verdict, judge
from plumbing.findings import Cause, Finding, Remedy, Severity
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.studies.remedies import Ask, Judged, Outcome, Proposal, compared, proposed, trials

_SHOWN = 12  # causes whose remedies are tried unasked; with more, none is followed through
_WHOLE = 3  # remedies of a cause that are checked as a whole unasked


@frozen
class _Best:
    """The best remedy of a cause, and whether it was followed through the whole check."""

    outcome: Outcome
    whole: bool


def mended(case: Case, verdict: Verdict) -> tuple[Cause, ...]:
    """Gather findings under their causes, with the best remedy beside the first causes.

    A cause worse than advice is mended on a copy where a remedy is known, and judged by its own
    check. The best is followed through the whole check, so that what follows from the cause is
    seen and not guessed; not so with many causes, where one remedy more or less tells little.
    """
    guessed = gathered(case.layout, case.survey, verdict.findings)
    serious = [one for one in guessed if one.severity is not Severity.ADVICE]
    shown = [one.finding.check for one in serious[:_SHOWN]]
    best = _best(case, verdict, shown, through=len(serious) <= _SHOWN) if shown else {}
    tried = {
        check: _became(one.outcome)
        for check, one in best.items()
        if one.whole and _mends(one.outcome, check)
    }
    findings = gathered(case.layout, case.survey, verdict.findings, tried) if tried else guessed
    return tuple(_with_remedy(one, best.get(one.finding.check)) for one in findings)


def remedies(case: Case, verdict: Verdict, wanted: frozenset[str]) -> tuple[Outcome, ...]:
    """Try every remedy meant for some checks, each followed through the whole check.

    Parameters
    ----------
    case, verdict
        The layout with its results, and what all checks say of it.
    wanted : frozenset of str
        Checks whose findings are to be mended.

    Returns
    -------
    tuple of Outcome
        Those that help: good ones first, then by what they clear and spoil.
    """
    before = _judged(verdict)
    found = trials(case, before, _judge, wanted)
    return _ranked([one.whole(before) for one in found])


def followed(before: Verdict, layout: Layout, after: Verdict) -> Outcome:
    """What a changed layout clears, eases and spoils, by the whole check of both."""
    proposal = Proposal("as changed", "", layout, frozenset())
    return compared(proposal, _judged(before), _judged(after))


def _best(
    case: Case, verdict: Verdict, wanted: Sequence[str], *, through: bool
) -> dict[str, _Best]:
    """The best remedy of each check's findings: the first good one, else the best of a few."""
    before = _judged(verdict)
    known: dict[int, Outcome] = {}
    every = [(one, _judge(one.layout)) for one in proposed(case, frozenset(wanted))]
    best = {}
    for check in wanted:
        firsts: dict[int, Outcome] = {}
        for number, (one, ask) in enumerate(every):
            if check in one.aims and (through or not firsts):
                first = compared(one, before, ask(frozenset({check})))
                firsts |= {number: first} if first.helps(check) else {}
        helping = sorted(firsts, key=lambda number: not _mends(firsts[number], check))
        if helping and not through:
            best[check] = _Best(firsts[helping[0]], whole=False)
            continue
        outcomes: list[Outcome] = []
        for number in helping[:_WHOLE]:
            if number not in known:
                one, ask = every[number]
                known[number] = compared(one, before, ask(None))
            outcomes.append(known[number])
            if known[number].good and _mends(known[number], check):
                break
        if outcomes:
            best[check] = _Best(_ranked(outcomes)[0], whole=True)
    return best


def _ranked(outcomes: Sequence[Outcome]) -> tuple[Outcome, ...]:
    return tuple(sorted(outcomes, key=lambda one: (not one.good, one.rank)))


def _mends(outcome: Outcome, check: str) -> bool:
    """Whether a remedy clears a check's findings, all of them."""
    left = {before.check for before, _ in outcome.eases} | {one.check for one in outcome.spoils}
    return any(one.check == check for one in outcome.clears) and check not in left


def _became(outcome: Outcome) -> Mended:
    return Mended(
        frozenset(key(one) for one in outcome.clears),
        frozenset(key(before) for before, _ in outcome.eases),
    )


def _judged(verdict: Verdict) -> Judged:
    opened = (one.finding for one in verdict.questions if one.usual)
    return Judged(
        (*verdict.findings, *opened),
        frozenset(one.name for one in checks()),
        frozenset(one.check for one in verdict.unchecked),
    )


def _judge(layout: Layout) -> Ask:
    """What the checks say of a layout; its results are computed once."""
    case = Case(layout)

    def ask(names: frozenset[str] | None) -> Judged:
        asked = [check for check in checks() if names is None or check.name in names]
        verdict = judge(case, asked)
        return Judged(
            verdict.findings,
            frozenset(check.name for check in asked),
            frozenset(one.check for one in verdict.unchecked),
        )

    return ask


def _with_remedy(cause: Cause, best: _Best | None) -> Cause:
    if best is None:
        return cause
    said = _bought(cause, best.outcome) + ("" if best.whole else "; all else was not tried")
    remedy = Remedy(best.outcome.proposal.change, said, best.outcome.proposal.costs)
    first, *others = cause.findings
    return replace(cause, findings=(replace(first, remedies=(remedy,)), *others))


def _bought(cause: Cause, outcome: Outcome) -> str:
    """What a remedy brings for a cause and besides, the bad with the good, in words."""
    gone = {key(one) for one in outcome.clears}
    more = len(outcome.clears) - len(cause.findings)
    said = "clears this" + (f" and {more} more" if more > 0 else "")
    if not all(key(one) in gone for one in cause.findings):
        own = [pair for pair in outcome.eases if pair[0].check == cause.finding.check]
        said = eased(*own[0]) if own else "clears it in part"
    spoilt = sorted({one.check for one in outcome.spoils})
    return f"{said}, but brings {', '.join(spoilt)}" if spoilt else said


def eased(before: Finding, after: Finding) -> str:
    """How far a measured value came, in words."""
    graded = after.severity is not before.severity
    if graded or before.measured is None or after.measured is None:
        return f"makes it {after.severity}"
    old, new = (units.show(one.value, one.kind) for one in (before.measured, after.measured))
    return f"from {old} to {new}"
