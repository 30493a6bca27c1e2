"""A file of format 1 as one of format 2: its yes and no become statements, all else stays."""

import re
from collections.abc import Iterator

from plumbing.layout import tree
from plumbing.layout.forms import Form, Record, Section, Stated, fields_of
from plumbing.layout.gathering import Faults
from plumbing.layout.statements import of_format_1
from plumbing.model.layout import Layout

_WORD = re.compile(r"""(['"]?)[\w.]+\1""")


def upgraded(text: str, file: str) -> str:
    """Text of a layout in the format that is written now.

    Parameters
    ----------
    text : str
        Text of a layout of format 1 or 2, one that can be read.
    file : str
        Its path, for messages.

    Returns
    -------
    str
        The same, with every comment and blank, but for the format and its statements.

    Raises
    ------
    LayoutError
        The text cannot be parsed.
    """
    mark = "\ufeff" * text.startswith("\ufeff")
    body = text.removeprefix(mark)
    root = tree.grow(body, file, Faults())
    if not isinstance(root, tree.Mapping):
        return text
    stated = root.entries.get("format")
    if not isinstance(stated, tree.Scalar) or stated.text != "1":
        return text
    changes = [(stated, "2")]
    for node in _statements(Record(Layout), root):
        state = of_format_1(node)
        changes += [(node, state)] if state and isinstance(node, tree.Scalar) else []
    rows = body.splitlines(keepends=True)
    for node, words in sorted(changes, key=lambda one: one[0].place, reverse=True):
        row, at = node.place.line - 1, node.place.column - 1
        rows[row] = rows[row][:at] + _WORD.sub(words, rows[row][at:], count=1)
    return mark + "".join(rows)


def _statements(form: Form, node: tree.Node) -> Iterator[tree.Node]:
    """What stands at every statement of a file; none stands in a list or a shape."""
    if isinstance(form, Stated):
        yield node
    elif isinstance(form, Record) and isinstance(node, tree.Mapping):
        for key, field in fields_of(form.cls).items():
            if key in node.entries:
                yield from _statements(field.form, node.entries[key])
    elif isinstance(form, Section) and isinstance(node, tree.Mapping):
        for inner in node.entries.values():
            yield from _statements(form.item, inner)
