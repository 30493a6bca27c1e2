"""Which characters a layout file may hold, and how large it may be."""

import re
import unicodedata

from plumbing.errors import Fault, LayoutError
from plumbing.place import Place

MOST_BYTES = 256 * 1024
LONGEST_LINE = 2000

# Control characters, and signs that turn the direction of writing or do not print:
# a name could otherwise look like another one on screen.
_REFUSED = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f"
    "\ud800-\udfff\ufeff\ufff9-\uffff\U000e0000-\U000e0fff]"
)
_LINE_END = re.compile("\r\n|\r|\n")
_WELL_KNOWN = {"\x00": "a zero byte", "\x7f": "a delete character", "\ufeff": "a byte-order mark"}


def decoded(content: bytes, file: str) -> str:
    """Text of a file's bytes; UTF-8 with or without a byte-order mark.

    Raises
    ------
    LayoutError
        Too large, or not UTF-8; the fault has the line of the first wrong byte.
    """
    if len(content) > MOST_BYTES:
        raise LayoutError((too_large(file),))
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = content[: error.start].decode("utf-8-sig", errors="replace")
        found = f"a byte 0x{content[error.start]:02x} that is not UTF-8 text"
        fault = Fault(_place_after(before, file), found, "a file saved as UTF-8")
        raise LayoutError((fault,)) from None


def too_large(file: str) -> Fault:
    """Fault of a file that is too large."""
    most = MOST_BYTES // 1024
    return Fault(
        Place(file, 1), f"a file of more than {most} kB", f"a layout file of at most {most} kB"
    )


def examine(text: str, file: str) -> None:
    """Refuse text with characters that do not print, or with lines without end.

    Raises
    ------
    LayoutError
        With the place of the first one.
    """
    if len(text) > MOST_BYTES:
        raise LayoutError((too_large(file),))
    hidden = _REFUSED.search(text)
    if hidden is not None:
        place = _place_after(text[: hidden.start()], file)
        found = described(hidden[0])
        raise LayoutError((Fault(place, found, "letters, digits and signs that print"),))
    for number, line in enumerate(_LINE_END.split(text), 1):
        if len(line) > LONGEST_LINE:
            found = f"a line of {len(line)} characters"
            expected = f"at most {LONGEST_LINE} characters in a line"
            raise LayoutError((Fault(Place(file, number), found, expected),))


def refused_in(text: str) -> str | None:
    """Describe the first character of a value that may not stand in one, if there is one."""
    hidden = _REFUSED.search(text)
    return None if hidden is None else described(hidden[0])


def described(character: str) -> str:
    """Describe a character that does not print in words."""
    if character in _WELL_KNOWN:
        return _WELL_KNOWN[character]
    name = unicodedata.name(character, "control character").lower()
    return f"a {name} (U+{ord(character):04X})"


def _place_after(before: str, file: str) -> Place:
    lines = _LINE_END.split(before)
    return Place(file, len(lines), len(lines[-1]) + 1)
