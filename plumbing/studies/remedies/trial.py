"""Trying remedies: each on its own copy, judged anew, best first."""

from collections.abc import Callable

from plumbing.findings import Finding, Severity
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.simulation.computed import Computed
from plumbing.stopping import going
from plumbing.studies.remedies.flow import equal_branches, fine_pore, slower_filling, wider_line
from plumbing.studies.remedies.parts import larger_header, lower_pump, open_joints
from plumbing.studies.remedies.pockets import cross_tube, second_pickup, turned_over
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
    cross_tube,
    second_pickup,
    turned_over,
    moved_tank,
    other_order,
)
_LEAST = 0.02  # change of a measured value that counts, as a share


@frozen
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


Ask = Callable[[frozenset[str] | None], Judged]
Judge = Callable[[Layout], Ask]


@frozen
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
        Findings that are new, or worse than before.
    """

    proposal: Proposal
    clears: tuple[Finding, ...]
    eases: tuple[tuple[Finding, Finding], ...]
    spoils: tuple[Finding, ...]

    @property
    def good(self) -> bool:
        """Whether it brings nothing new, not even advice."""
        return not self.spoils

    @property
    def rank(self) -> tuple[int, int, int, int]:
        """Lower is better: unsafe, faults, advice spoilt less cleared, then eased."""
        counts = [
            sum(f.severity == severity for f in self.spoils)
            - sum(f.severity == severity for f in self.clears)
            for severity in Severity
        ]
        return (counts[0], counts[1], counts[2], -len(self.eases))

    def helps(self, check: str) -> bool:
        """Whether it clears or eases a finding of a check."""
        eased = (before for before, _ in self.eases)
        return any(one.check == check for one in (*self.clears, *eased))


@frozen(eq=False)
class Trial:
    """A remedy that helps what it is meant for; the rest was not asked yet.

    Attributes
    ----------
    first : Outcome
        What it does for the checks it is meant for.
    ask : callable
        Answers for its layout.
    """

    first: Outcome
    ask: Ask

    def whole(self, before: Judged) -> Outcome:
        """What it does, by the whole check."""
        return compared(self.first.proposal, before, self.ask(None))


def proposed(case: Computed, wanted: frozenset[str]) -> list[Proposal]:
    """Every remedy that is meant for one of those checks; nothing is tried yet."""
    return [one for propose in _ALL for one in propose(case) if one.aims & wanted]


def trials(
    case: Computed,
    before: Judged,
    judge: Judge,
    wanted: frozenset[str],
) -> tuple[Trial, ...]:
    """Try every remedy that is meant for a finding, by the checks it is meant for.

    Parameters
    ----------
    case : Computed
        The layout with its results; the layout is never changed.
    before : Judged
        What all checks say of it.
    judge : callable
        Takes a layout and gives what answers for it: all checks, or those named.
    wanted : frozenset of str
        Checks whose findings are to be mended.

    Returns
    -------
    tuple of Trial
        Those that clear or ease what they are meant for, best first.
    """
    proposals = proposed(case, wanted)
    helping = []
    for number, proposal in enumerate(proposals):
        going(number / len(proposals))
        ask = judge(proposal.layout)
        first = compared(proposal, before, ask(proposal.aims & wanted))
        if first.clears or first.eases:
            helping.append(Trial(first, ask))
    return tuple(sorted(helping, key=lambda one: one.first.rank))


def compared(proposal: Proposal, before: Judged, after: Judged) -> Outcome:
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
