"""Where something was written: file, line and column travel with every part."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A spot in a file the user can open.

    Attributes
    ----------
    file : str
        Path as the user gave it.
    line, column : int
        Both count from 1, as editors do.
    """

    file: str
    line: int
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


NOWHERE = Place("", 0, 0)
