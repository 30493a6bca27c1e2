"""What a check is made of: its case, its limit, and the two things it may say."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from plumbing import quantities
from plumbing.checks.case import Case
from plumbing.findings import Figure, Severity
from plumbing.frozen import frozen
from plumbing.model.statement import Statement

__all__ = ["Case", "Check", "Figure", "Found", "Lacking", "Limit", "Open", "Says", "Severity"]


@frozen
class Limit:
    """The one number a check compares with; the layout file may set another.

    Attributes
    ----------
    text : str
        Usual limit as it would stand under `limits:` in a layout file.
    kind : str
        Kind of quantity, a key of `plumbing.units.KINDS`.
    """

    text: str
    kind: str

    @property
    def value(self) -> float:
        """Usual limit [SI]."""
        return quantities.parse(self.text, self.kind)


@frozen
class Open:
    """A statement that does not hold: what rests on it is a finding from its stage on.

    Attributes
    ----------
    path : str
        Its key path in the layout file.
    statement : Statement
        What the file says.
    """

    path: str
    statement: Statement


@frozen
class Found:
    """A fault the check found; the runner adds the check's name, source, reason and place.

    Attributes
    ----------
    part : str
        Name of the part or line, as in the layout file.
    what : str
        One sentence: what is wrong, with the numbers that matter.
    measured, allowed : Figure or None
        The number and its limit.
    field : str
        Model field of that part at fault, so that the place is its own line.
    parts : tuple of str
        Other parts involved.
    severity : Severity or None
        If this case differs from the check's usual severity.
    advice : str
        If this case has a cure of its own.
    open : Open or None
        The statement without which there would be no finding.
    """

    part: str
    what: str
    measured: Figure | None = None
    allowed: Figure | None = None
    field: str = ""
    parts: tuple[str, ...] = ()
    severity: Severity | None = None
    advice: str = ""
    open: Open | None = None


@frozen
class Lacking:
    """What the check would have needed: it is then unchecked, never passed.

    Attributes
    ----------
    missing : str
        The datum, as the layout file's key path, such as `pumps.pump.curve`.
    part : str
        The part it concerns.
    """

    missing: str
    part: str = ""


Says = Iterator[Found | Lacking]


@frozen
class Check:
    """One check, made from its file or its row of the statements.

    Attributes
    ----------
    name : str
        The file's name with hyphens: it names the fault.
    subject : str
        The folder it stands in.
    title, why, cure : str
        What is wrong, why it matters and what to do; a file's docstring has them.
    bad, good : str
        Fragments of a layout, laid over a starter: the first must be found, the second not.
    starter : str
        The starter the fragments are laid over.
    severity : Severity
        Usual severity.
    source : str
        Whose rule it is.
    limit : Limit or None
        Its limit, if it compares a number.
    rests_on : str
        Result of the case that takes long and that it needs (`RESTS_ON`), or empty.
    find : callable
        `find(case, limit)` where limit is the SI value in force (nan-free; 0 without a limit).
    """

    name: str
    subject: str
    title: str
    why: str
    cure: str
    bad: str
    good: str
    starter: str
    severity: Severity
    source: str
    limit: Limit | None
    rests_on: str
    find: Callable[[Case, float], Says]
