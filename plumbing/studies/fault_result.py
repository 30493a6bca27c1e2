"""What single faults do to a flight. Plain values in SI."""

from __future__ import annotations

from collections.abc import Mapping

from plumbing.findings import Severity
from plumbing.frozen import frozen
from plumbing.results import NotComputed


@frozen
class Fault:
    """One thing that can go wrong.

    Attributes
    ----------
    kind : str
        What, such as `line pinched`.
    part : str
        Where: a part or line of the layout.
    what : str
        The fault in words, as a sentence begins.
    noticed : str
        How it shows before flight, in words; empty where nothing shows it.
    """

    kind: str
    part: str
    what: str
    noticed: str = ""


@frozen
class Outcome:
    """One fault through the same flight.

    Attributes
    ----------
    fault : Fault
        The fault.
    severity : Severity or None
        `unsafe` where an engine stops in the air or a tank gives way, `fault` where air reaches a
        pump, an engine stops on the ground or the reserve is cut into, `advice` where only suction
        rises much or less is left; None where nothing happens that is felt.
    stops : mapping of str to float
        When each engine that stops does so [s].
    phase : str
        Phase in which the first engine stops or, if none does, the first air arrives.
    first_air : mapping of str to float
        When air first reaches each pump it reaches [s].
    folds : mapping of str to float
        Tanks whose walls fold, and when [s].
    suction : mapping of str to float
        Highest suction at each pump in the flight, while it draws [Pa].
    suction_change : float
        Largest change of it at any pump, 0 where an engine stops [Pa].
    tank_suction : mapping of str to float
        Highest suction in each tank [Pa].
    stranded : float
        Fuel left on board when the first engine stops [m3]; 0 where none does.
    short : float
        Fuel the flight ends with less than without faults, or out of reach because of the fault,
        where no engine stops [m3].
    does : str
        What happens, in words.
    """

    fault: Fault
    severity: Severity | None
    stops: Mapping[str, float]
    phase: str
    first_air: Mapping[str, float]
    folds: Mapping[str, float]
    suction: Mapping[str, float]
    suction_change: float
    tank_suction: Mapping[str, float]
    stranded: float
    short: float
    does: str

    @property
    def first_stop(self) -> float | None:
        """When the first engine stops [s]; None if none does."""
        return min(self.stops.values(), default=None)


@frozen
class Unknown:
    """A fault whose flight could not be computed.

    Attributes
    ----------
    fault : Fault
        The fault.
    why : NotComputed
        The reason, with the time.
    """

    fault: Fault
    why: NotComputed

    @classmethod
    def of(cls, fault: Fault, reason: str, stopped: bool = False) -> Unknown:
        """A fault with the reason in words."""
        why = NotComputed("single faults", f"{fault.what}: {reason}", fault.part, stopped=stopped)
        return cls(fault, why)


@frozen
class Faults:
    """Every single fault through one flight.

    Attributes
    ----------
    flight : str
        Name of the flight.
    assumed : bool
        Whether it is the usual one, because the layout states none.
    duration : float
        Its length [s].
    take_off : float
        When it leaves the ground [s].
    outcomes : tuple of Outcome
        Worst first.
    unknown : tuple of Unknown
        Faults that could not be computed: nothing is known of what they do.
    nominal_stops : mapping of str to float
        Engines that stop without any fault, and when [s].
    """

    flight: str
    assumed: bool
    duration: float
    take_off: float
    outcomes: tuple[Outcome, ...]
    unknown: tuple[Unknown, ...]
    nominal_stops: Mapping[str, float]

    @property
    def partial(self) -> bool:
        """Whether somebody stopped it before all were flown."""
        return any(one.why.stopped for one in self.unknown)
