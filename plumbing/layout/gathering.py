"""Faults gathered while a file is read, so that all of them are reported together."""

from collections.abc import Iterable

from plumbing.errors import Fault, nearest
from plumbing.place import Place

_NEAR = 0.6  # how alike a word must be to be the one that was meant
MOST = 200  # more than anyone reads; a damaged file could otherwise cost minutes
LONGEST_WORD = 60
MOST_GUESSES = 50  # looking for the nearest word is slow


class Faults:
    """The faults found so far.

    Attributes
    ----------
    found : list of Fault
        Faults in the order they were met.
    """

    def __init__(self) -> None:
        self.found: list[Fault] = []

    @property
    def full(self) -> bool:
        """Whether so many were met that reading on helps nobody."""
        return len(self.found) >= MOST

    def add(self, place: Place, found: str, expected: str) -> None:
        """Note a fault; beyond the bound it is dropped."""
        if not self.full:
            self.found.append(Fault(place, found, expected))

    def unknown(
        self, place: Place, what: str, word: str, known: Iterable[str], otherwise: str = ""
    ) -> None:
        """Note a word that is not one of the known ones: the nearest, or all and what else."""
        if self.full:
            return
        words = list(known)
        guess = len(self.found) < MOST_GUESSES
        close = nearest(word[:LONGEST_WORD], words, _NEAR) if guess else None
        if close:
            expected = f"`{close}`" if len(words) == 1 else f"`{close}`, the nearest known"
        elif words:
            expected = listed(words) + otherwise
        else:
            expected = "nothing here: there are none to name"
        self.add(place, f"{what} {quoted(word)}", expected)


def meant(word: str, known: Iterable[str]) -> str | None:
    """The known word that was meant by one that is not known, if one is near enough."""
    return nearest(word[:LONGEST_WORD], known, _NEAR)


def quoted(text: str) -> str:
    """A text from the file in backquotes, cut where it is long."""
    short = text if len(text) <= LONGEST_WORD else text[: LONGEST_WORD - 3] + "..."
    return f"`{short}`"


def listed(words: Iterable[str], most: int = 12) -> str:
    """Words as a list in a sentence."""
    names = [f"`{word}`" for word in words] or ["nothing"]
    if len(names) > most:
        return "one of " + ", ".join(names[:most]) + f" and {len(names) - most} more"
    return names[0] if len(names) == 1 else "one of " + ", ".join(names)
