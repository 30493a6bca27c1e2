"""What must be written into a file so that another layout is read from it."""

from collections.abc import Iterator
from typing import Any

from plumbing import units
from plumbing.layout.forms import (
    Choice,
    Flag,
    Form,
    Items,
    Number,
    Record,
    Row,
    Section,
    Stated,
    Tagged,
    Text,
    fields_of,
)
from plumbing.model.base import Written
from plumbing.model.layout import Layout

_DIGITS = 6
Path = tuple[str, ...]
Plain = str | list["Plain"] | dict[str, "Plain"]


def differences(before: Layout, after: Layout) -> dict[Path, Plain | None]:
    """Values to be written, by their keys from the top; None where an entry is to go.

    Parameters
    ----------
    before, after : Layout
        The layout of the file, and the one to be read from it.
    """
    return dict(_of(Record(Layout), before, after, ()))


def _of(form: Form, before: Any, after: Any, path: Path) -> Iterator[tuple[Path, Plain | None]]:
    if before == after:
        return
    match form:
        case Record():
            yield from _of_record(form, before, after, path)
        case Section():
            for name in dict.fromkeys((*before, *after)):
                inner = (*path, name)
                if name not in after:
                    yield inner, None
                elif name not in before:
                    yield inner, plain(form.item, after[name])
                else:
                    yield from _of(form.item, before[name], after[name], inner)
        case Tagged() if type(before) is type(after):
            kind = _kind(form, after)
            yield from _of(Record(form.kinds[kind]), before, after, (*path, kind))
        case _:
            text = plain(form, after)
            if text != plain(form, before):
                yield path, text


def _of_record(
    form: Record, before: Any, after: Any, path: Path
) -> Iterator[tuple[Path, Plain | None]]:
    for key, field in fields_of(form.cls).items():
        old, new = getattr(before, field.name), getattr(after, field.name)
        inner = (*path, key)
        if new is None and old is not None:
            yield inner, None
        elif old is None and new is not None:
            yield inner, plain(field.form, new)
        else:
            yield from _of(field.form, old, new, inner)


def plain(form: Form, value: Any) -> Plain:
    """A value as it stands in a file."""
    match form:
        case Number():
            return str(value) if form.whole else units.show(value, form.quantity.kind, _DIGITS)
        case Text() | Choice():
            return str(value)
        case Flag():
            return "yes" if value else "no"
        case Items():
            return [plain(form.item, one) for one in value]
        case Row():
            return [plain(inner, one) for inner, one in zip(form.items, value, strict=True)]
        case Section():
            return {name: plain(form.item, one) for name, one in value.items()}
        case Tagged():
            kind = _kind(form, value)
            return {kind: plain(Record(form.kinds[kind]), value)}
        case Record():
            return _record(form, value)
        case Stated():
            beside = {"note": value.note, "photo": value.photo}
            more: dict[str, Plain] = {key: said for key, said in beside.items() if said}
            return {"is": value.words, **more} if more else str(value.words)


def _record(form: Record, value: Written) -> Plain:
    """The fields that do not have their usual value."""
    found = {}
    for key, field in fields_of(form.cls).items():
        one = getattr(value, field.name)
        if one is not None and (field.required or one != field.default):
            found[key] = plain(field.form, one)
    return found


def _kind(form: Tagged, value: Written) -> str:
    return next(kind for kind, cls in form.kinds.items() if isinstance(value, cls))
