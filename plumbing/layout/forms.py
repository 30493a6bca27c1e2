"""What may stand at each spot of a layout file, worked out from the model's own type hints.

The reader, the JSON Schema and the reference page walk these forms; a value added to the model
is read, checked and documented by having been declared.
"""

import dataclasses
import types
import typing
from dataclasses import MISSING
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from plumbing.frozen import frozen
from plumbing.model.base import Written
from plumbing.model.fields import Also, Quantity, Refers, Tag, Usual
from plumbing.model.statement import Statement
from plumbing.stage import Stage


@frozen
class Text:
    """Words; `refers` where they name something else in the file."""

    refers: Refers | None = None


@frozen
class Number:
    """A number with its unit; `whole` for counts."""

    quantity: Quantity
    whole: bool = False


@frozen
class Flag:
    """Yes or no."""


@frozen
class Choice:
    """One of a few words."""

    words: tuple[str, ...]


@frozen
class Items:
    """A list of any length."""

    item: "Form"


@frozen
class Row:
    """A list of a fixed length, such as a point."""

    items: tuple["Form", ...]


@frozen
class Section:
    """Entries by name."""

    item: "Form"


@frozen
class Tagged:
    """A mapping with one key that says which kind follows."""

    kinds: dict[str, type[Written]]


@frozen
class Record:
    """A mapping with known keys, read into a value of the model."""

    cls: type[Written]


@frozen
class Stated:
    """A statement with its evidence, due at a stage."""

    due: Stage


Form = Text | Number | Flag | Choice | Items | Row | Section | Tagged | Record | Stated


@frozen
class Field:
    """One key of a record.

    Attributes
    ----------
    name, key : str
        Name in the model and key in the file.
    form : Form
        What may stand there.
    doc : str
        What it is.
    usual : Usual or None
        What is assumed where it is missing.
    required : bool
        Whether a file without it has a fault.
    default : object
        Value where it is missing.
    also : str
        Another key for the same value; empty where there is none.
    """

    name: str
    key: str
    form: Form
    doc: str
    usual: Usual | None
    required: bool
    default: Any
    also: str


_KNOWN: dict[type[Written], dict[str, Field]] = {}


def fields_of(cls: type[Written]) -> dict[str, Field]:
    """Fields of a class of the model that stand in the file, by key."""
    if cls not in _KNOWN:
        _KNOWN[cls] = _fields(cls)
    return _KNOWN[cls]


def _fields(cls: type[Written]) -> dict[str, Field]:
    hints = typing.get_type_hints(cls, include_extras=True)
    found = {}
    for field in dataclasses.fields(cls):
        hint = hints[field.name]
        if get_origin(hint) is not Annotated:
            continue  # not written in the file: filled in by the reader
        key = key_of(field.name)
        found[key] = _field(field, key, hint)
    return found


def key_of(name: str) -> str:
    """Key in the file of a field of the model: `dry_mass` is written `dry-mass`."""
    return name.rstrip("_").replace("_", "-")


def _field(field: "dataclasses.Field[Any]", key: str, hint: Any) -> Field:
    extras = get_args(hint)[1:] if get_origin(hint) is Annotated else ()
    default = field.default
    if field.default_factory is not MISSING:
        default = field.default_factory()
    return Field(
        name=field.name,
        key=key,
        form=Stated(default.due) if isinstance(default, Statement) else form_of(hint),
        doc=next((extra for extra in extras if isinstance(extra, str)), ""),
        usual=next((extra for extra in extras if isinstance(extra, Usual)), None),
        required=default is MISSING,
        default=default,
        also=next((extra.key for extra in extras if isinstance(extra, Also)), ""),
    )


def form_of(hint: Any, extras: tuple[Any, ...] = ()) -> Form:
    """Form of a type hint.

    Raises
    ------
    TypeError
        The model declares something the layout file has no form for.
    """
    origin, parts = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return form_of(parts[0], (*parts[1:], *extras))
    if origin in (Union, types.UnionType):
        return _union(tuple(part for part in parts if part is not type(None)), extras)
    if origin is Literal:
        return Choice(parts)
    if origin is tuple:
        if len(parts) == 2 and parts[1] is Ellipsis:
            return Items(form_of(parts[0], _quantities(extras)))
        return Row(tuple(form_of(part, _quantities(extras)) for part in parts))
    if origin is dict:
        return Section(form_of(parts[1]))
    return _plain(hint, extras)


def _plain(hint: Any, extras: tuple[Any, ...]) -> Form:
    if isinstance(hint, type) and issubclass(hint, Written):
        return Record(hint)
    if hint is bool:
        return Flag()
    if hint is str:
        return Text(next((extra for extra in extras if isinstance(extra, Refers)), None))
    quantity = _quantities(extras)
    if hint in (int, float) and quantity:
        return Number(quantity[0], whole=hint is int)
    raise TypeError(f"no form in a layout file for {hint!r}")


def _union(parts: tuple[Any, ...], extras: tuple[Any, ...]) -> Form:
    if len(parts) == 1:
        return form_of(parts[0], extras)
    kinds = {}
    for part in parts:
        inner = get_args(part)
        tag = next((extra for extra in inner[1:] if isinstance(extra, Tag)), None)
        if tag is None:
            raise TypeError(f"{part!r} among others has no Tag")
        kinds[tag.key] = inner[0]
    return Tagged(kinds)


def _quantities(extras: tuple[Any, ...]) -> tuple[Quantity, ...]:
    return tuple(extra for extra in extras if isinstance(extra, Quantity))
