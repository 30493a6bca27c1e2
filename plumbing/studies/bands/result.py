"""What a study of the values that a file leaves out gives back. Plain values in SI."""

from collections.abc import Mapping

from plumbing.findings import Figure, Guess
from plumbing.frozen import frozen
from plumbing.model.layout import Layout


@frozen
class Band:
    """One number, over all that the values left out could be.

    Attributes
    ----------
    what, part : str
        What it is, in words, and the part it belongs to.
    figure : Figure
        The usual value with its band.
    check : str
        Check that compares it with a limit, or empty.
    limit : float
        That limit; not read without a check.
    found : tuple of bool
        Whether the finding is made in the usual case, somewhere in the band, and everywhere.
    effects : tuple of (float, float)
        Lowest and highest value with one guess alone going through its range, guess by guess.
    """

    what: str
    part: str
    figure: Figure
    check: str
    limit: float
    found: tuple[bool, bool, bool]
    effects: tuple[tuple[float, float], ...]

    @property
    def open(self) -> bool:
        """Whether the finding is made in part of the band."""
        _, somewhere, everywhere = self.found
        return somewhere and not everywhere

    @property
    def width(self) -> float:
        """Width of the band."""
        low, high = self.figure.band
        return high - low

    def share(self, number: int) -> float:
        """Share of the band that one guess makes by itself [-]."""
        low, high = self.effects[number]
        return min((high - low) / self.width, 1.0) if self.width > 0.0 else 0.0

    def decided_by(self, number: int) -> bool:
        """Whether the question were closed if one value alone were known, and as usual."""
        low, high = self.figure.band
        least, most = self.effects[number]
        low += self.figure.value - least
        high -= most - self.figure.value
        return self.open and not low <= self.limit <= high


@frozen
class Bands:
    """Everything that the values left out could make of a layout.

    Attributes
    ----------
    guesses : tuple of Guess
        Those values.
    bands : tuple of Band
        Numbers with what they could be.
    ends : tuple of Layout
        The layout with all of them where the suction under load is greatest, and least.
    unsolved : mapping of str to str
        What could not be computed, and why.
    """

    guesses: tuple[Guess, ...]
    bands: tuple[Band, ...]
    ends: tuple[Layout, ...]
    unsolved: Mapping[str, str]
