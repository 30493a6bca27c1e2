"""What a file does not say and was filled in: numbers with what they could be, and the rest."""

from plumbing import units
from plumbing.findings import Assumption, Guess
from plumbing.layout.graded.ranges import Range

PRACTICE = "common practice"


class Unsaid:
    """Everything that was filled in while a file was read.

    Attributes
    ----------
    guesses : dict of (str, tuple of float) to Guess
        Numbers, by what to measure; keys of one thing stand together.
    paths : dict of str
        Key paths of what has no band: places, shapes, ports, pickups, kinds.
    assumed : list of Assumption
        The same as they are listed.
    heights : dict of str to float
        Heights of parts that are said without their place [m].
    """

    def __init__(self) -> None:
        self.guesses: dict[tuple[str, float], Guess] = {}
        self.paths: dict[str, None] = {}
        self.assumed: list[Assumption] = []
        self.heights: dict[str, float] = {}

    def number(self, path: str, words: str, kind: str, could: Range, stated: bool = True) -> str:
        """Fill in a number that could be anything in a range.

        Parameters
        ----------
        path : str
            Key path.
        words : str
            What to measure; numbers of the same words are one thing.
        kind : str
            Kind of quantity.
        could : Range
            Low, usual and high value [SI].
        stated : bool
            Whether the usual value is taken into the model, and so listed as assumed.

        Returns
        -------
        str
            The usual value as it would stand in the file.
        """
        key = (words, could.usual)
        known = self.guesses.get(key)
        paths = (*known.paths, path) if known else (path,)
        low = min(could.low, known.low) if known else could.low
        high = max(could.high, known.high) if known else could.high
        self.guesses[key] = Guess(paths, words, kind, low, could.usual, high)
        shown, least, most = (units.show(x, kind, 6) for x in (could.usual, could.low, could.high))
        if stated:
            self.assumed.append(Assumption(path, f"{shown} ({least} to {most})", PRACTICE))
        return shown

    def rest(self, path: str, value: str) -> None:
        """Note what was filled in and has no band."""
        self.paths[path] = None
        self.assumed.append(Assumption(path, value, PRACTICE))
