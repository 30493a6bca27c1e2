"""What the layout file takes on itself: findings accepted, and limits set to other values."""

from collections.abc import Sequence

from plumbing import quantities, units
from plumbing.checks.registry import checks
from plumbing.errors import Fault, nearest
from plumbing.findings import Finding
from plumbing.frozen import frozen
from plumbing.model.ground import Accepted
from plumbing.model.layout import Layout


@frozen
class Waived:
    """A finding that somebody answers for."""

    finding: Finding
    accepted: Accepted

    @property
    def words(self) -> str:
        """What was accepted, why, by whom and when."""
        said = self.accepted
        where = f" at {self.finding.part}" if self.finding.part else ""
        return f"{self.finding.check}{where}: {said.reason} ({said.by}, {said.on})"


@frozen
class ChangedLimit:
    """A limit that the file sets to another value than the usual one."""

    check: str
    value: float
    usual: float
    kind: str

    @property
    def texts(self) -> tuple[str, str]:
        """The limit and the usual value with their units."""
        return units.apart(self.value, self.usual, self.kind)

    @property
    def words(self) -> str:
        """The limit with the usual value beside it."""
        value, usual = self.texts
        return f"{self.check}: {value}, usually {usual}"


def answers_for(accepted: Accepted, check: str, part: str) -> bool:
    """Whether an acceptance is for what a check found at a part."""
    return accepted.check == check and accepted.part in (None, part)


def waived(
    layout: Layout, findings: Sequence[Finding]
) -> tuple[tuple[Finding, ...], tuple[Waived, ...]]:
    """Part findings from those that the file accepts."""
    stays: list[Finding] = []
    goes: list[Waived] = []
    for one in findings:
        said = next(
            (x for x in layout.accepted.values() if answers_for(x, one.check, one.part)), None
        )
        if said is None:
            stays.append(one)
        else:
            goes.append(Waived(one, said))
    return tuple(stays), tuple(goes)


def unknown_checks(layout: Layout) -> list[Fault]:
    """Acceptances of checks that there are not."""
    names = [check.name for check in checks()]
    faults = []
    for one in layout.accepted.values():
        if one.check not in names:
            close = nearest(one.check, names)
            hint = f", perhaps `{close}`" if close else "; `plumbing explain` lists them"
            found = f"a finding of `{one.check}` accepted"
            faults.append(Fault(one.place_of("check"), found, f"the name of a check{hint}"))
    return faults


def changed_limits(layout: Layout) -> tuple[ChangedLimit, ...]:
    """Limits that the file sets to another value than the usual one."""
    limits = {check.name: check.limit for check in checks() if check.limit is not None}
    found = []
    for name, text in layout.limits.items():
        usual = limits[name]
        value = quantities.parse(text, usual.kind)
        if value != usual.value:
            found.append(ChangedLimit(name, value, usual.value, usual.kind))
    return tuple(found)
