"""Trying remedies: each on its own copy, judged anew, best first."""

from collections.abc import Callable
from dataclasses import dataclass

from plumbing.findings import Finding, Severity
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.stopping import going
from plumbing.studies.remedies.flow import equal_branches, fine_pore, slower_filling, wider_line
from plumbing.studies.remedies.parts import larger_header, lower_pump, open_joints
from plumbing.studies.remedies.proposal import Proposal
from plumbing.studies.remedies.tanks import longer_clunk, moved_tank, other_order
from plumbing.studies.remedies.vents import cap_second_vent, chain_teed, vent_loop

_ALL = (
    cap_second_vent,
    chain_teed,
    fine_pore,
    equal_branches,
    open_joints,
    wider_line,
    larger_header,
    lower_pump,
    vent_loop,
    slower_filling,
    longer_clunk,
    moved_tank,
    other_order,
)
_LEAST = 0.02  # change of a measured value that counts, as a share


@dataclass(frozen=True, slots=True)
class Judged:
    """What the checks say of a layout.

    Attributes
    ----------
    findings : tuple of Finding
        Findings.
    asked : frozenset of str
        Checks that were asked.
    unchecked : frozenset of str
        Those of them that lacked data: what they do not find is not clear.
    """

    findings: tuple[Finding, ...]
    asked: frozenset[str]
    unchecked: frozenset[str]


Ask = Callable[[frozenset[str], frozenset[str] | None], Judged]
Judge = Callable[[Layout], Ask]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a remedy did.

    Attributes
    ----------
    proposal : Proposal
        The remedy.
    clears : tuple of Finding
        Findings that are gone.
    eases : tuple of (Finding, Finding)
        Findings that stay with a better value, before and after.
    spoils : tuple of Finding
        Findings that are new.
    """

    proposal: Proposal
    clears: tuple[Finding, ...]
    eases: tuple[tuple[Finding, Finding], ...]
    spoils: tuple[Finding, ...]

    @property
    def helps(self) -> bool:
        """Whether it clears or eases more than it spoils, the worst first."""
        return self.rank < (0, 0, 0, 0)

    @property
    def rank(self) -> tuple[int, int, int, int]:
        """Lower is better: unsafe, faults, advice spoilt less cleared, then eased."""
        counts = [
            sum(f.severity == severity for f in self.spoils)
            - sum(f.severity == severity for f in self.clears)
            for severity in Severity
        ]
        return (counts[0], counts[1], counts[2], -len(self.eases))


def tried(
    layout: Layout,
    found: Survey,
    before: Judged,
    judge: Judge,
    check: str | None = None,
) -> tuple[Outcome, ...]:
    """Try every remedy that is meant for a finding.

    Parameters
    ----------
    layout, found
        The layout and its survey; the layout is never changed.
    before : Judged
        What all checks say of it.
    judge : callable
        Takes a layout and gives what answers for it: the checks of some subjects, all of them or
        those named.
    check : str, optional
        Only remedies for this check.

    Returns
    -------
    tuple of Outcome
        Those that help on the whole, best first; with `check`, those that help it, whatever else
        they spoil.
    """
    wanted = {f.check for f in before.findings if check is None or f.check == check}
    proposals = [
        proposal
        for propose in _ALL
        for proposal in propose(layout, found)
        if proposal.aims & wanted
    ]
    outcomes = []
    for number, proposal in enumerate(proposals):
        going(number / len(proposals))
        ask = judge(proposal.layout)
        first = _compared(proposal, before, ask(proposal.touches, proposal.aims & wanted))
        if not first.clears and not first.eases:
            continue  # it misses its aim; the rest need not be asked
        outcome = _compared(proposal, before, ask(proposal.touches, None))
        if outcome.helps if check is None else _for(outcome, check):
            outcomes.append(outcome)
    return tuple(sorted(outcomes, key=lambda one: one.rank))


def _for(outcome: Outcome, check: str) -> bool:
    return any(f.check == check for f in outcome.clears) or any(
        before.check == check for before, _ in outcome.eases
    )


def _compared(proposal: Proposal, before: Judged, after: Judged) -> Outcome:
    """Compare by check and part; a check that now lacks data has cleared nothing."""
    sure = after.asked - (after.unchecked - before.unchecked)
    old = {(f.check, f.part): f for f in before.findings if f.check in sure}
    new = {(f.check, f.part): f for f in after.findings}
    both = [(f, new[key]) for key, f in old.items() if key in new]
    return Outcome(
        proposal,
        clears=tuple(f for key, f in old.items() if key not in new),
        eases=tuple((f, g) for f, g in both if _eased(f, g)),
        spoils=tuple(
            f
            for key, f in new.items()
            if key not in old or f.severity.rank < old[key].severity.rank
        ),
    )


def _eased(before: Finding, after: Finding) -> bool:
    """Whether a finding is less severe, or as severe with its value nearer to the limit.

    Advice that is given because a band crosses the limit has its value on the good side: nearer to
    the limit is then worse, not better.
    """
    if after.severity is not before.severity:
        return after.severity.rank > before.severity.rank
    one, other, limit, now = before.measured, after.measured, before.allowed, after.allowed
    if one is None or other is None or limit is None or now is None:
        return False
    if before.uncertain and before.severity is Severity.ADVICE:
        return False
    gap, left = one.value - limit.value, other.value - now.value
    return gap * left > 0.0 and abs(left) < abs(gap) * (1.0 - _LEAST)
