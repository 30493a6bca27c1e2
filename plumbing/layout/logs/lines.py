"""The bytes of a log as lines of text, never more than is allowed."""

from plumbing.errors import Fault, LayoutError
from plumbing.layout.content import content_of
from plumbing.layout.gathering import quoted
from plumbing.place import Place

MOST_BYTES = 200 * 1000 * 1000  # a day at 50 Hz
MOST_LINES = 5_000_000  # more than a day at 50 Hz; each costs memory of its own
LONGEST_LINE = 10_000
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


def lines_of(path: str, file: str) -> list[str]:
    """Lines of a file; UTF-8 with or without a byte-order mark.

    Parameters
    ----------
    path : str
        Where it is.
    file : str
        What to call it in places.

    Raises
    ------
    LayoutError
        It cannot be read, is too large, or is not lines of text.
    """
    return text_lines(bytes_of(path, file), file)


def text_lines(content: bytes, file: str) -> list[str]:
    """Lines of a file's bytes.

    Raises
    ------
    LayoutError
        They are not lines of text.
    """
    if max(content.count(end) for end in (b"\n", b"\r")) > MOST_LINES:
        expected = "a shorter log, or one written less often"
        raise _refused(file, 1, 1, f"a file of more than {MOST_LINES} lines", expected)
    zero = content.find(b"\x00")
    if content.startswith(_UTF_16):
        raise _refused(file, 1, 1, "a file saved as UTF-16", "a CSV file saved as UTF-8")
    if zero >= 0:
        raise _refused(file, *_spot(content, zero), "a zero byte", "a CSV file: text, not binary")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        start = error.start + 3 * content.startswith(b"\xef\xbb\xbf")
        found = f"a byte 0x{content[start]:02x} that is not UTF-8 text"
        raise _refused(file, *_spot(content, start), found, "a CSV file saved as UTF-8") from None
    del content
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    lines = text.split("\n")
    if max(map(len, lines)) > LONGEST_LINE:
        number, line = next((n, one) for n, one in enumerate(lines, 1) if len(one) > LONGEST_LINE)
        found = f"a line of {len(line)} characters"
        raise _refused(file, number, 1, found, f"at most {LONGEST_LINE} characters in a line")
    return lines


def bytes_of(path: str, file: str, most_bytes: int = MOST_BYTES) -> bytes:
    """Bytes of a file.

    Raises
    ------
    LayoutError
        It cannot be read, or is larger than allowed.
    """
    try:
        content = content_of(path, most_bytes)
    except (OSError, ValueError) as refused:
        reason = getattr(refused, "strerror", None) or "not a path"
        found = f"{quoted(file)}, which cannot be read: {reason.lower()}"
        raise _refused(file, 1, 1, found, "a CSV file") from None
    if len(content) > most_bytes:
        most = f"{most_bytes / 1e6:.0f} MB"
        raise _refused(file, 1, 1, f"a file of more than {most}", f"a log of at most {most}")
    return content


def _spot(content: bytes, at: int) -> tuple[int, int]:
    """Line and column of a byte, from 1."""
    begin = content.rfind(b"\n", 0, at) + 1
    before = content[begin:at].decode("utf-8", errors="replace")
    return content.count(b"\n", 0, at) + 1, len(before) + 1


def _refused(file: str, line: int, column: int, found: str, expected: str) -> LayoutError:
    return LayoutError((Fault(Place(file, line, column), found, expected),))
