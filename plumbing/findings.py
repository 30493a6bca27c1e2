"""What a check has to say. Plain values: made by checks, shown by drawings and reports."""

from enum import StrEnum

from plumbing.frozen import frozen
from plumbing.place import NOWHERE, Place
from plumbing.results import NotComputed

_ROUNDED = 0.005  # of a limit: half a step of the three digits that a builder writes


class Severity(StrEnum):
    """How bad a finding is."""

    UNSAFE = "unsafe"  # do not put fuel in
    FAULT = "fault"  # fix before drilling or flight
    ADVICE = "advice"

    @property
    def rank(self) -> int:
        """0 for the worst."""
        return list(Severity).index(self)


@frozen
class Figure:
    """A number with its kind of quantity and, where it is uncertain, its band.

    Attributes
    ----------
    value : float
        SI value (gauge pressure in Pa, m, m3, m3/s, s, kg, rad, ...).
    kind : str
        Kind of quantity, a key of `plumbing.units.KINDS`.
    low, high : float or None
        Band in the same unit, if the value is uncertain.
    """

    value: float
    kind: str
    low: float | None = None
    high: float | None = None

    @property
    def band(self) -> tuple[float, float]:
        """Lowest and highest value; the value twice where it has no band."""
        low = self.value if self.low is None else self.low
        return low, self.value if self.high is None else self.high

    def crosses(self, limit: float) -> bool:
        """Whether the band has the limit inside: the verdict is then not certain."""
        return self.low is not None and self.high is not None and self.low < limit < self.high


@frozen
class Remedy:
    """A change that was tried on a copy and run again.

    Attributes
    ----------
    change : str
        What to do, in words.
    buys : str
        What it brings, with numbers.
    costs : str
        What it costs: mass, parts, holes, findings it adds.
    """

    change: str
    buys: str
    costs: str


@frozen
class Finding:
    """One fault of the design.

    Attributes
    ----------
    check : str
        Name of the check, which names the fault.
    severity : Severity
        unsafe, fault or advice.
    part : str
        Name of the part or line, as in the layout file.
    place : Place
        Where that part stands in the file.
    what : str
        One sentence: what is wrong.
    measured, allowed : Figure or None
        The number and its limit, where there is one.
    source : str
        Whose rule it is, or `common practice`.
    why : str
        Why it matters, one sentence.
    advice : str
        The usual cure, one sentence.
    parts : tuple of str
        Other parts involved, marked on the drawing as well.
    remedies : tuple of Remedy
        Remedies that were computed, best first.
    assumed : tuple of str
        Key paths of assumed values: with kinder ones there would be no finding.
    """

    check: str
    severity: Severity
    part: str
    what: str
    place: Place = NOWHERE
    measured: Figure | None = None
    allowed: Figure | None = None
    source: str = "common practice"
    why: str = ""
    advice: str = ""
    parts: tuple[str, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    assumed: tuple[str, ...] = ()

    @property
    def uncertain(self) -> bool:
        """Whether the measured value cannot be told apart from its limit.

        Their bands overlap, or, where neither has one, both are one number as rounded.
        """
        if self.measured is None or self.allowed is None:
            return False
        (low, high), (least, most) = self.measured.band, self.allowed.band
        if low == high and least == most:
            return 0.0 < abs(low - least) <= _ROUNDED * abs(least)
        return low < most and least < high

    @property
    def doubt(self) -> str:
        """What would settle it, in words, where it is not certain."""
        if self.assumed:
            return f"rests on what was assumed; state {', '.join(self.assumed)} to know"
        if not self.uncertain or self.measured is None:
            return ""
        where = f" at {self.part}" if self.part else ""
        return (
            f"cannot be told apart from the limit; measure the {self.measured.kind}{where} to know"
        )

    @property
    def excess(self) -> float:
        """From the limit to the nearer end of the band, as a share of the limit.

        It is 1 where there is no number: such a fault is there or is not.
        """
        if self.measured is None or self.allowed is None:
            return 1.0
        limit, value = self.allowed.value, self.measured.value
        near = self.measured.low if value > limit else self.measured.high
        beyond = (value if near is None else near) - limit
        away = beyond if value > limit else -beyond
        return away / abs(limit) if limit else float(away > 0.0)


@frozen
class Cause:
    """One thing to mend, and what follows from it.

    Attributes
    ----------
    number : int
        From 1, the worst first; the same on the screen, the drawings and the papers.
    findings : tuple of Finding
        What is wrong: findings of one check, at one part or at several.
    follows : tuple of Finding
        Findings that go when these are mended.
    sure : bool
        Whether they were seen to go on a mended copy; else checks of this kind are known to follow.
    """

    number: int
    findings: tuple[Finding, ...]
    follows: tuple[Finding, ...] = ()
    sure: bool = True

    @property
    def finding(self) -> Finding:
        """The first of its findings, which stands for all."""
        return self.findings[0]

    @property
    def severity(self) -> Severity:
        """The worst of it and of what follows."""
        every = (*self.findings, *self.follows)
        return min((one.severity for one in every), key=lambda severity: severity.rank)

    @property
    def parts(self) -> tuple[str, ...]:
        """Parts at fault, then those where something follows; each once."""
        every = (*self.findings, *self.follows)
        names = (name for one in every for name in (one.part, *one.parts))
        return tuple(dict.fromkeys(filter(None, names)))


@frozen
class Unchecked:
    """A check that could not run: never to be read as passed.

    Attributes
    ----------
    check : str
        Name of the check.
    missing : str
        The datum it lacked, in the words of the layout file; empty where `why` says more.
    part : str
        The part it concerns, or empty for the whole layout.
    place : Place
        Where that part stands.
    why : NotComputed or None
        The result it needed and could not have.
    """

    check: str
    missing: str
    part: str = ""
    place: Place = NOWHERE
    why: NotComputed | None = None

    @property
    def words(self) -> str:
        """What it lacked, or why the result it needs was not computed."""
        return f"needs {self.missing}" if self.why is None else str(self.why)


@frozen
class Assumption:
    """A value the file does not state and that was assumed.

    Attributes
    ----------
    what : str
        The value's path in the layout, e.g. `engines.engine.full-flow`.
    value : str
        The value with its unit.
    source : str
        Where the usual value is from.
    """

    what: str
    value: str
    source: str


@frozen
class Guess:
    """A number that the file does not say and that measuring would tell.

    Attributes
    ----------
    paths : tuple of str
        Key paths it stands for.
    words : str
        What to measure, such as `length of line main to header`.
    kind : str
        Kind of quantity.
    low, usual, high : float
        What it could be, and what was taken [SI].
    """

    paths: tuple[str, ...]
    words: str
    kind: str
    low: float
    usual: float
    high: float


@frozen
class Question:
    """A finding that is made for some of the values that the file leaves out, and not for all.

    Attributes
    ----------
    finding : Finding
        As it was made; its measured value with the whole band.
    usual : bool
        Whether it is made with the usual values.
    measure : tuple of str
        What would tell, in words or as key paths, that first which tells most.
    """

    finding: Finding
    usual: bool
    measure: tuple[str, ...]


@frozen
class Measure:
    """Something to measure, and what knowing it would do.

    Attributes
    ----------
    guess : Guess
        What is not known, and what it could be.
    share : float
        Largest share that it alone makes of the band of a number [-].
    decides : tuple of str
        Checks that are open and that it alone could decide.
    """

    guess: Guess
    share: float
    decides: tuple[str, ...]
