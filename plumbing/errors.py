"""What can go wrong with the *input*; a broken design is a finding, never an exception.

PlumbingError
├── LayoutError      the file has faults: all of them, each with its place
├── UsageError       the request cannot be met as asked
├── SolveError       a computation that did not reach an answer, and which part stopped it
└── Stopped          whoever waits for a computation stopped it
"""

from collections.abc import Iterable

from plumbing.frozen import frozen
from plumbing.place import Place


class PlumbingError(Exception):
    """Anything this package raises on purpose."""


class UsageError(PlumbingError):
    """The request cannot be met as asked: an unknown name, an unwritable path."""


class SolveError(PlumbingError):
    """A computation did not reach an answer.

    Parameters
    ----------
    reason : str
        Why, in plain words that name the part.
    part : str
        The part, or empty for the whole layout.
    """

    def __init__(self, reason: str, part: str = "") -> None:
        super().__init__(reason)
        self.part = part


class Stopped(PlumbingError):  # noqa: N818
    """A computation was stopped by whoever waits for it.

    Parameters
    ----------
    what : str
        What was computed.
    """

    def __init__(self, what: str) -> None:
        super().__init__(f"stopped in the middle of: {what}")


@frozen
class Fault:
    """One thing wrong in an input file.

    Attributes
    ----------
    place : Place
        Where it stands.
    found : str
        What was found there.
    expected : str
        What was expected, with an example of the right form where one helps.
    """

    place: Place
    found: str
    expected: str

    def __str__(self) -> str:
        return f"{self.place}: {self.found}; expected {self.expected}"


class LayoutError(PlumbingError):
    """An input file has faults. Nothing is computed from it."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = tuple(sorted(faults, key=lambda fault: fault.place))
        super().__init__("\n".join(str(fault) for fault in self.faults))


def nearest(word: str, known: Iterable[str], cutoff: float = 0.6) -> str | None:
    """Nearest of the known words, or None where none is as alike as `cutoff` (1 is the same)."""
    from difflib import get_close_matches

    close = get_close_matches(word, list(known), n=1, cutoff=cutoff)
    return close[0] if close else None
