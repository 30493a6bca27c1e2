"""What a finished study says of itself; the rows are in its table."""

from __future__ import annotations

from dataclasses import dataclass

from plumbing.studies.study.one import Row


@dataclass(frozen=True, slots=True)
class Studied:
    """A study that is done.

    Attributes
    ----------
    table : str
        Where the rows are.
    cases : int
        How many.
    faulty : int
        How many of them have a fault instead of results.
    first : Row or None
        The first of those.
    """

    table: str
    cases: int
    faulty: int
    first: Row | None
