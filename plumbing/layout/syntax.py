"""Faults of writing put in plain words: what stands there and what could."""

import re

from ruamel.yaml.error import MarkedYAMLError, YAMLError

from plumbing.errors import Fault
from plumbing.place import Place

# Parts of the parser's messages, and what a builder reads instead (found, expected).
_WORDS: tuple[tuple[str, str, str], ...] = (
    ("'\\t'", "a tab", "spaces for indentation"),
    (
        "mapping values are not allowed",
        "a second `:` in one line, or a line too far to the right",
        "`key: value`, indented like its neighbours; quote a text that has `: ` in it",
    ),
    ("could not find expected ':'", "a line without `:`", "`key: value`"),
    ("expected ',' or ']'", "a list that is not closed", "`, ` between items and `]` at the end"),
    (
        "expected ',' or '}'",
        "a mapping in braces that is not closed",
        "`, ` between entries and `}` at the end",
    ),
    (
        "while parsing a block mapping",
        "a line that does not fit its neighbours",
        "`key: value`, indented like the lines around it",
    ),
    (
        "while parsing a block collection",
        "a line that does not fit the list above it",
        "`- value`, indented like the other items",
    ),
    ("found unexpected end of stream", "a text whose quote is not closed", "a closing quote"),
    ("unknown escape", "a `\\` in a text in double quotes", "single quotes, or no `\\`"),
    ("escape sequence", "a `\\` in a text in double quotes", "single quotes, or no `\\`"),
    (
        "cannot start any token",
        "a sign that cannot begin a value",
        "quotes around a text that begins with a sign",
    ),
    (
        "expected the node content",
        "a sign where a value should stand",
        "a value; quote a text that begins with a sign",
    ),
    (
        "anchor",
        "an anchor or alias",
        "every part written out in full; quote a text with `&` or `*`",
    ),
    ("alias", "an anchor or alias", "every part written out in full; quote a text with `&` or `*`"),
    ("tag", "a tag", "a plain value; quote a text that begins with `!`"),
    (
        "incompatible YAML",
        "a line that begins with `%`",
        "`key: value`; quote a text that begins with `%`",
    ),
    ("directive", "a line that begins with `%`", "`key: value`; quote a text that begins with `%`"),
    ("block scalar", "a block of text that is not well formed", "`key: a text in one line`"),
    ("document start", "text after the end of the layout", "one layout in a file"),
)
# Signs that stick to what follows; the parser then takes the line for a text.
_STUCK = (
    (re.compile(r"\s*[\w-]+:[^\s:]"), "a `:` without a space behind it", "`key: value`"),
    (re.compile(r"\s*-[^\s-]"), "a `-` without a space behind it", "`- value`"),
)
_BEGINS = ("end of stream", "expected ',' or", "could not find expected ':'")
_OTHER = ("text that cannot be read here", "`key: value` lines, indented with spaces")


def fault_of(error: YAMLError, text: str, file: str) -> Fault:
    """Fault in plain words, at the place where the reading stopped."""
    message, line, column = _heard(error)
    lines = text.splitlines() or [""]
    if line > len(lines):  # the end of the file: point at the last line that says something
        line = max((n for n, row in enumerate(lines, 1) if row.strip()), default=1)
        column = len(lines[line - 1]) + 1
    row = lines[line - 1]
    if row[: len(row) - len(row.lstrip())].count("\t"):
        message = "'\\t'"
    stuck = ((f, e) for sign, f, e in _STUCK if sign.match(row))
    said = ((f, e) for part, f, e in _WORDS if part in message)
    return Fault(Place(file, line, column), *next(stuck, next(said, _OTHER)))


def _heard(error: YAMLError) -> tuple[str, int, int]:
    """Message, line and column of a parser's error, counted from 1."""
    if not isinstance(error, MarkedYAMLError):
        return str(error), 1, 1
    message = f"{error.problem or ''} {error.context or ''}"
    # An opening that is never closed is better shown at the opening.
    unclosed = any(part in message for part in _BEGINS)
    mark = error.context_mark if unclosed and error.context_mark else error.problem_mark
    mark = mark or error.context_mark
    if mark is None:
        return message, 1, 1
    return message, mark.line + 1, mark.column + 1
