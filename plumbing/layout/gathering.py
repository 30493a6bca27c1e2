"""Faults gathered while a file is read, so that all of them are reported together."""

import re
from collections.abc import Iterable

from plumbing.errors import Fault
from plumbing.place import Place
from plumbing.units import nearest

_NEAR, _VERY_NEAR = 0.6, 0.8  # how alike a word must be to be the one that was meant
_SIZE = re.compile(r"([\d.]+)x([\d.]+)")
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
        sized = _same_size(word[:LONGEST_WORD], words)
        cutoff = _VERY_NEAR if sized else _NEAR
        close = nearest(word[:LONGEST_WORD], words, cutoff) if guess else None
        turned = _SIZE.sub(r"\2x\1", word[:LONGEST_WORD])
        if turned != word and turned in words:
            expected = f"`{turned}`: the outer diameter first"
        elif sized and not close:
            expected = listed(sized)
        elif close:
            expected = f"`{close}`" if len(words) == 1 else f"`{close}`, the nearest known"
        elif words:
            expected = listed(words) + otherwise
        else:
            expected = "nothing here: there are none to name"
        self.add(place, f"{what} {quoted(word)}", expected)


def _same_size(word: str, words: Iterable[str]) -> list[str]:
    """Known words with the same size at their end, as `nylon 6x4` for `6x4` or `hose 6x4`."""
    size = word.split()[-1] if word.split() else ""
    return [one for one in words if _SIZE.fullmatch(size) and one.split()[-1:] == [size]]


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
