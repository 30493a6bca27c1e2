"""A paper to be filled in by hand: what to do, and a ruled table with room to write."""

from __future__ import annotations

from plumbing.frozen import frozen


@frozen
class Form:
    """A paper.

    Attributes
    ----------
    title : str
        Title.
    cautions : tuple of str
        What must be known before anything is done.
    steps : tuple of str
        What to do, in order.
    heads : tuple of str
        Columns of the table.
    rows : tuple of tuple of str
        Rows; an empty text is room to write.
    notes : tuple of str
        Below the table.
    wide : bool
        Whether it wants the long side of the paper.
    """

    title: str
    cautions: tuple[str, ...]
    steps: tuple[str, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()
    wide: bool = False
