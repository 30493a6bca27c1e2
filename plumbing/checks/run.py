"""Run checks over a case: complete what they say, sort it, and say what could not be checked."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from plumbing.checks.accepted import (
    ChangedLimit,
    Waived,
    changed_limits,
    unknown_checks,
    waived,
)
from plumbing.checks.assumed import Otherwise, otherwise
from plumbing.checks.evidence import Proof, proofs
from plumbing.checks.kit import Case, Check, Found, Lacking, Open
from plumbing.checks.limits import limits_in_force
from plumbing.checks.registry import checks
from plumbing.errors import LayoutError
from plumbing.findings import Finding, Measure, Question, Severity, Unchecked
from plumbing.frozen import frozen
from plumbing.model.base import Written
from plumbing.model.layout import PART_SECTIONS, Layout
from plumbing.place import Place
from plumbing.results import NotComputed, listening
from plumbing.stage import STAGES, Due, Stage, reached

_SECTIONS = (
    *PART_SECTIONS,
    "lines",
    "formers",
    "zones",
    "joints",
    "tubes",
    "parking",
    "flights",
    "accepted",
    "measured",
)


@frozen
class Verdict:
    """What all checks said of one layout.

    Attributes
    ----------
    findings : tuple of Finding
        Worst first.
    unchecked : tuple of Unchecked
        Checks that lacked data, with what is missing.
    clear : tuple of str
        Names of checks that ran and found nothing.
    accepted : tuple of Waived
        Findings that the file accepts.
    limits : tuple of ChangedLimit
        Limits that the file sets to another value than the usual one.
    stage : str
        Stage of the layout.
    open : tuple of Due
        Statements that do not hold, in the order of the stages at which they are due.
    proven : tuple of Proof
        Statements that readings on the bench are evidence for.
    questions : tuple of Question
        Findings that are made for some only of the values that the file leaves out.
    measure : tuple of Measure
        What to measure, that first which decides most.
    """

    findings: tuple[Finding, ...]
    unchecked: tuple[Unchecked, ...]
    clear: tuple[str, ...]
    accepted: tuple[Waived, ...] = ()
    limits: tuple[ChangedLimit, ...] = ()
    stage: Stage = "drawing"
    open: tuple[Due, ...] = ()
    proven: tuple[Proof, ...] = ()
    questions: tuple[Question, ...] = ()
    measure: tuple[Measure, ...] = ()

    @property
    def due(self) -> tuple[Due, ...]:
        """What is no finding yet, but will be at a later stage."""
        return tuple(one for one in self.open if not reached(self.stage, one.stage))

    @property
    def not_computed(self) -> tuple[NotComputed, ...]:
        """Results that checks needed and could not have, each once."""
        return tuple(dict.fromkeys(one.why for one in self.unchecked if one.why is not None))

    @property
    def not_judged(self) -> tuple[NotComputed, ...]:
        """Questions that the layout poses and that got no answer."""
        return tuple(one for one in self.not_computed if one.asked)

    @property
    def partial(self) -> bool:
        """Whether somebody stopped it before all was computed."""
        return any(one.stopped for one in self.not_computed)

    def passes(self, severity: Severity) -> bool:
        """Whether everything was judged and nothing found as bad as that or worse."""
        return not self.not_judged and not self.at_or_above(severity)

    def at_or_above(self, severity: Severity) -> tuple[Finding, ...]:
        """Findings as bad as that or worse."""
        return tuple(f for f in self.findings if f.severity.rank <= severity.rank)


def judge(case: Case, selected: Iterable[Check] | None = None) -> Verdict:
    """Run the checks.

    Parameters
    ----------
    case : Case
        The layout and its results.
    selected : iterable of Check, optional
        Checks to run; all by default.

    Returns
    -------
    Verdict
        Sorted findings, unchecked and clear checks, and what is due later.

    Raises
    ------
    LayoutError
        The file sets a limit for a check that does not exist or has none, or not as a quantity
        of the right kind, or accepts what no check finds.
    """
    layout = case.layout
    limits = limits_in_force(layout)
    if unknown := unknown_checks(layout):
        raise LayoutError(tuple(unknown))
    proven = proofs(case)
    proved = {one.statement for one in proven}
    findings: list[Finding] = []
    left: list[Due] = []
    unchecked: list[Unchecked] = []
    clear: list[str] = []
    others = otherwise(layout)
    for check in checks() if selected is None else selected:
        said = tuple(
            one
            for one in asked(check, case, limits[check.name])
            if not (isinstance(one, Found) and one.open and one.open.path in proved)
        )
        found = [one for one in said if isinstance(one, Found)]
        told = [_finding(check, layout, one) for one in found if _speaks(layout, one)]
        findings += _resting(check, limits[check.name], told, others)
        left += [_due(check, layout, one, one.open) for one in found if one.open]
        lacking = dict.fromkeys(one for one in said if not isinstance(one, Found))
        unchecked += [_unchecked(check, layout, one) for one in lacking]
        if not said:
            clear.append(check.name)
    findings.sort(key=lambda one: one.severity.rank)  # else as the checks stand
    left.sort(key=lambda one: STAGES.index(one.stage))
    stays, accepted = waived(layout, tuple(findings))
    return Verdict(
        stays,
        tuple(unchecked),
        tuple(clear),
        accepted,
        changed_limits(layout),
        layout.stage,
        tuple(left),
        proven,
    )


def asked(check: Check, case: Case, limit: float) -> tuple[Found | Lacking | NotComputed, ...]:
    """All that one check says, and why any result that it read was not computed."""
    said: list[Found | Lacking] = []
    with listening() as missing:
        for one in check.find(case, limit):
            said.append(one)  # kept even if the next one needs what was not computed
    return (*said, *missing)


def _finding(check: Check, layout: Layout, found: Found) -> Finding:
    """The whole finding; what is not certain is no more than advice."""
    return _sure(
        Finding(
            check=check.name,
            severity=found.severity or check.severity,
            part=found.part,
            what=found.what,
            place=place_of(layout, found.part, found.field),
            measured=found.measured,
            allowed=found.allowed,
            source=check.source,
            why=check.why,
            advice=found.advice or check.cure,
            parts=found.parts,
        )
    )


def _sure(finding: Finding) -> Finding:
    return replace(finding, severity=Severity.ADVICE) if finding.doubt else finding


def _resting(
    check: Check, limit: float, found: Sequence[Finding], others: Sequence[Otherwise]
) -> Iterator[Finding]:
    """The same findings; what is not found with kinder values is no more than advice."""
    serious = {one.part for one in found if one.severity is not Severity.ADVICE}
    rests: dict[str, tuple[str, ...]] = {}
    for other in others if serious else ():
        paths = other.paths.get(check.name, ())
        said = asked(check, other.case, limit) if paths else ()
        if not paths or any(isinstance(one, NotComputed) for one in said):
            continue
        again = (_finding(check, other.case.layout, x) for x in said if isinstance(x, Found))
        still = {one.part for one in again if one.severity is not Severity.ADVICE}
        rests |= dict.fromkeys(serious - still, paths)
    for one in found:
        yield _sure(replace(one, assumed=rests.get(one.part, ())))


def _speaks(layout: Layout, found: Found) -> bool:
    """Whether it is a finding at the stage of the layout; else it is due later."""
    return found.open is None or reached(layout.stage, found.open.statement.due)


def _due(check: Check, layout: Layout, found: Found, still: Open) -> Due:
    said, place = still.statement, place_of(layout, found.part, found.field)
    return Due(check.name, said.due, still.path, said.state, found.part, found.what, place)


def _unchecked(check: Check, layout: Layout, lacking: Lacking | NotComputed) -> Unchecked:
    if isinstance(lacking, NotComputed):
        place = place_of(layout, lacking.part, "")
        return Unchecked(check.name, "", lacking.part, place, lacking)
    section = lacking.missing.partition(".")[0].replace("-", "_")
    place = place_of(layout, lacking.part, "", section)
    return Unchecked(check.name, lacking.missing, lacking.part, place)


def place_of(layout: Layout, part: str, field: str, section: str = "") -> Place:
    """Where a part (or one of its fields, or a section of the file) is written.

    A line may have the name of an outlet: then the one that has the field is meant, or the one
    in the section named.
    """
    named = [
        getattr(layout, name)[part]
        for name in sorted(_SECTIONS, key=lambda name: name != section)
        if part in getattr(layout, name)
    ]
    for one in named:
        if not field or hasattr(one, field):
            place: Place = one.place_of(field) if field else one.place
            return place
    if not part:
        return layout.place
    whole = part.replace("-", "_")
    values = getattr(layout, whole, None)
    if isinstance(values, Written) and field in values.places:
        return values.places[field]
    return layout.place_of(whole)
