"""What a finished study says of itself; the rows are in its table."""

from __future__ import annotations

from collections.abc import Mapping

from plumbing.frozen import frozen


@frozen
class Studied:
    """A study that is done.

    Attributes
    ----------
    table : str
        Where the rows are.
    cases : int
        How many.
    faulty : int
        How many of them lack results.
    reasons : mapping of str to int
        How many of them for each reason; beyond a thousand reasons only those met first.
    """

    table: str
    cases: int
    faulty: int
    reasons: Mapping[str, int]
