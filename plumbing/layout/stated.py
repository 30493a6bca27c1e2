"""Statements of a layout with their key paths."""

from collections.abc import Iterator
from typing import Any

from plumbing.layout.forms import Form, Record, Section, Stated, fields_of
from plumbing.model.layout import Layout
from plumbing.model.statement import Statement


def stated(layout: Layout) -> dict[str, Statement]:
    """Every statement that the file makes, by its key path; one that is only open is left out."""
    return dict(_below(Record(Layout), layout, ""))


def _below(form: Form, value: Any, path: str) -> Iterator[tuple[str, Statement]]:
    match form:
        case Stated():
            if value != Statement(due=form.due):
                yield path, value
        case Record() if value is not None:
            for key, field in fields_of(form.cls).items():
                inner = getattr(value, field.name)
                yield from _below(field.form, inner, f"{path}.{key}" if path else key)
        case Section() if isinstance(form.item, Record):
            for name, one in value.items():
                yield from _below(form.item, one, f"{path}.{name}")
        case _:  # no statement stands in a list or a shape
            return
