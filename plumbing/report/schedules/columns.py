"""Columns side by side within a width: headings and texts are folded, nothing is cut off."""

import textwrap
from collections.abc import Iterator, Sequence
from itertools import zip_longest

from plumbing.frozen import frozen

_GAP = 2  # blanks between columns
_TALLEST = 3  # lines of a heading
_HANG = 1  # blanks before the further lines of a cell
_NARROW = 8  # no column of texts is made narrower than this


@frozen
class Columns:
    """What is to stand side by side.

    Attributes
    ----------
    heads : sequence of str
        Headings.
    rows : sequence of sequence of str
        Rows of cells, at least one, as long as there are headings.
    texts : sequence of bool
        Which columns hold texts: those stand to the left and fold, numbers stand to the right.
    """

    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    texts: Sequence[bool]


@frozen
class Laid:
    """A table as lines.

    Attributes
    ----------
    head : tuple of str
        Lines of the headings, and a rule below them.
    body : tuple of str
        Lines of the rows.
    """

    head: tuple[str, ...]
    body: tuple[str, ...]


def lay_out(columns: Columns, room: int) -> Laid | None:
    """Lay columns out within so many characters; None where they are too many for that."""
    sizes = _sizes(columns, room)
    if sizes is None:
        return None
    named = [_folded(head, size) for head, size in zip(columns.heads, sizes, strict=True)]
    tallest = max(map(len, named))
    named = [[""] * (tallest - len(head)) + head for head in named]
    head = _beside(named, sizes, columns.texts)
    body: list[str] = []
    for row in columns.rows:
        cells = [_folded(cell, size, _HANG) for cell, size in zip(row, sizes, strict=True)]
        body += _beside(cells, sizes, columns.texts)
    return Laid((*head, (" " * _GAP).join("─" * size for size in sizes)), tuple(body))


def _sizes(columns: Columns, room: int) -> list[int] | None:
    """Width of every column: headings fold first, then texts, the widest first."""
    cells = list(zip(*columns.rows, strict=True))
    for lines in range(1, _TALLEST + 1):
        named = [_head_size(head, lines) for head in columns.heads]
        sizes = [max(head, *map(len, column)) for head, column in zip(named, cells, strict=True)]
        if _together(sizes) <= room:
            return sizes
    words = [max(map(len, " ".join(column).split()), default=0) + _HANG for column in cells]
    for whole in (words, [_NARROW] * len(words)):  # words are broken only where nothing else helps
        least = [max(head, word) for head, word in zip(named, whole, strict=True)]
        while _together(sizes) > room:
            giving = [k for k, text in enumerate(columns.texts) if text and sizes[k] > least[k]]
            if not giving:
                break
            sizes[max(giving, key=lambda k: sizes[k])] -= 1
    return sizes if _together(sizes) <= room else None


def _together(sizes: Sequence[int]) -> int:
    return sum(sizes) + _GAP * (len(sizes) - 1)


def _head_size(head: str, lines: int) -> int:
    """Narrowest width in which a heading folds at blanks into so many lines."""
    size = max(map(len, head.split()), default=1)
    while len(_folded(head, size)) > lines:
        size += 1
    return size


def _folded(text: str, size: int, hang: int = 0) -> list[str]:
    lines = textwrap.wrap(text, size, subsequent_indent=" " * hang, break_on_hyphens=False)
    return lines or [""]


def _beside(
    cells: Sequence[Sequence[str]], sizes: Sequence[int], texts: Sequence[bool]
) -> Iterator[str]:
    for line in zip_longest(*cells, fillvalue=""):
        placed = (
            part.ljust(size) if text else part.rjust(size)
            for part, size, text in zip(line, sizes, texts, strict=True)
        )
        yield (" " * _GAP).join(placed).rstrip()
