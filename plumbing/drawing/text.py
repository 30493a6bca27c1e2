"""Text on a drawing: cleaned, measured with the font's own advance widths, wrapped, elided."""

import csv
import unicodedata
from functools import cache
from importlib.resources import files

EM = 2048.0  # font units per em of DejaVu Sans
_UNKNOWN = EM  # a full em for a character the table lacks
_MAX_NAME = 400


@cache
def _advances() -> dict[int, tuple[int, int]]:
    table: dict[int, tuple[int, int]] = {}
    text = files("plumbing.drawing").joinpath("tables/advance.csv").read_text("utf-8")
    for row in csv.reader(text.splitlines()[1:]):
        widths = (int(row[2]), int(row[3]))
        for code in range(int(row[0]), int(row[1]) + 1):
            table[code] = widths
    return table


def clean(text: str) -> str:
    """Text without control and direction-changing characters, white space made single.

    Parameters
    ----------
    text : str
        Anything from the layout file.

    Returns
    -------
    str
        Text that is safe to draw once it is escaped.
    """
    kept = (
        " " if ch.isspace() else ch
        for ch in text[:_MAX_NAME]
        if ch.isspace() or unicodedata.category(ch) not in {"Cc", "Cf", "Cs", "Co", "Cn"}
    )
    return " ".join("".join(kept).split())


def width(text: str, size: float, bold: bool = False) -> float:
    """Width of a text [mm].

    Parameters
    ----------
    text : str
        One row of text.
    size : float
        Font size [mm].
    bold : bool
        Whether it is set in the bold face.

    Returns
    -------
    float
        Sum of the advance widths [mm]; kerning is left out, which errs on the wide side.
    """
    table, face = _advances(), int(bold)
    units = 0.0
    for ch in text:
        pair = table.get(ord(ch))
        units += _UNKNOWN if pair is None else pair[face]
    return units * size / EM


def elide(text: str, room: float, size: float, bold: bool = False) -> str:
    """Text that fits into `room` [mm]; what is too long loses its middle.

    The middle goes because the ends of part names tell them apart (left, right, 1, 2).
    """
    if width(text, size, bold) <= room:
        return text
    low, high = 0, len(text)
    while low < high:
        keep = (low + high + 1) // 2
        if width(_cut(text, keep), size, bold) <= room:
            low = keep
        else:
            high = keep - 1
    return _cut(text, low)


def _cut(text: str, keep: int) -> str:
    head = (keep + 1) // 2
    return text[:head] + "…" + (text[-(keep - head) :] if keep > head else "")


def shorten(text: str, room: float, size: float) -> str:
    """Sentence that fits into `room` [mm]; what is too long loses its end."""
    if width(text, size) <= room:
        return text
    while text and width(text + " …", size) > room:
        text = text.rpartition(" ")[0] or text[:-1]
    return text + " …"


def wrap(text: str, room: float, size: float, rows: int, bold: bool = False) -> list[str]:
    """Break a text into at most `rows` rows of `room` [mm] each.

    Breaks come after a space, a hyphen or an underscore; the last row takes what is left. What
    does not fit there is cut at its end in a sentence, and in the middle in a name.
    """
    prose = text.count(" ") > 4
    words = _words(text)
    out: list[str] = []
    row = ""
    while words:
        if len(out) == rows - 1:
            rest = (row + "".join(words)).strip()
            out.append(shorten(rest, room, size) if prose else elide(rest, room, size, bold))
            return out
        word = words[0]
        if width((row + word).rstrip(), size, bold) <= room:
            row += words.pop(0)
        elif row:
            out.append(row.strip())
            row = ""
        else:
            out.append(elide(words.pop(0).strip(), room, size, bold))
    if row.strip():
        out.append(row.strip())
    return out


def _words(text: str) -> list[str]:
    words, word = [], ""
    for ch in text:
        word += ch
        if ch in " -_":
            words.append(word)
            word = ""
    if word:
        words.append(word)
    return words
