"""Checks that only repeat what the layout file says: one row each in `statements.toml`.

A row has the texts of a check and what is asked:

- `of`: of what, a section of the file or a key of `asked.CHOSEN`;
- `only`: keys with the answers they must have, else the part is passed over;
- `given`: the same, but no answer makes the check unchecked;
- `asks`: keys with the answers that are a fault, and a sentence for each.

An answer is `yes`, `no`, the file's own word, for a statement with evidence `open` or `done`, or,
for a number, `above` or `below` the row's `limit`, which is a value and its kind. No answer to what
is asked makes the check unchecked.
"""

import tomllib
from collections.abc import Iterator
from dataclasses import field
from functools import partial
from importlib.resources import files

from plumbing.checks.asked import Asked, asked_of
from plumbing.checks.kit import Case, Check, Figure, Found, Lacking, Limit, Open, Says, Severity
from plumbing.frozen import frozen
from plumbing.model.statement import Statement
from plumbing.units import show


@frozen
class Row:
    """One row of the table: the texts of a `Check` first, then what is asked."""

    subject: str
    title: str
    why: str
    cure: str
    bad: str
    good: str
    severity: str
    source: str
    of: str
    asks: dict[str, dict[str, str]]
    only: dict[str, list[str]] = field(default_factory=dict)
    given: dict[str, list[str]] = field(default_factory=dict)
    limit: tuple[str, str] | None = None
    starter: str = "single-main"


def statements() -> Iterator[Check]:
    """Checks of the table.

    Raises
    ------
    TypeError
        A row lacks something or has a key of its own.
    """
    table = tomllib.loads(files(__package__).joinpath("statements.toml").read_text("utf-8"))
    for name, written in table.items():
        row = Row(**written)
        yield Check(
            name=name,
            subject=row.subject,
            title=row.title,
            why=row.why,
            cure=row.cure,
            bad=row.bad,
            good=row.good,
            starter=row.starter,
            severity=Severity(row.severity),
            source=row.source,
            limit=Limit(*row.limit) if row.limit else None,
            rests_on="",
            find=partial(_find, row),
        )


def _find(row: Row, case: Case, limit: float) -> Says:
    for one in asked_of(case, row.of):
        if isinstance(one, Lacking):
            yield one
        elif all(_answer(one, key)[0] in words for key, words in row.only.items()):
            yield from _judged(row, one, limit)


def _judged(row: Row, one: Asked, limit: float) -> Says:
    """What the file says of one part, where it must be asked at all."""
    for key, words in row.given.items():
        answer, path = _answer(one, key)
        if not answer:
            yield Lacking(path, one.name)
        if answer not in words:
            return
    for key, faults in row.asks.items():
        value, path = _said(one, key)
        at = one.model_field or key.partition(".")[0].replace("-", "_")
        if value is None:
            yield Lacking(path, one.name)
        elif isinstance(value, float) and row.limit:
            sentence = faults.get("above" if value > limit else "below" if value < limit else "")
            yield from _beyond(row.limit[1], one, at, sentence, value, limit)
        elif (answer := _answer(one, key)[0]) in faults:
            what = faults[answer].format(**one.words)
            rests = Open(path, value) if isinstance(value, Statement) else None
            yield Found(one.name, what, field=at, parts=one.parts, open=rests)


def _beyond(
    kind: str, one: Asked, at: str, sentence: str | None, value: float, limit: float
) -> Iterator[Found]:
    """A number on the wrong side of its limit, where there are words for that side."""
    if sentence is not None:
        numbers = {
            "value": value,
            "limit": limit,
            "shown": show(value, kind),
            "allowed": show(limit, kind),
        }
        what = sentence.format(**one.words, **numbers)
        yield Found(one.name, what, Figure(value, kind), Figure(limit, kind), at, one.parts)


def _answer(one: Asked, key: str) -> tuple[str, str]:
    """The answer as a word, empty where the file has none, and its key path."""
    value, path = _said(one, key)
    if value is None:
        return "", path
    if isinstance(value, bool):
        return ("yes" if value else "no"), path
    if isinstance(value, Statement):
        return ("done" if value.holds else "open"), path
    return str(value), path


def _said(one: Asked, key: str) -> tuple[object, str]:
    """What the file says, or None, and its key path as far as the file goes."""
    value, path = one.value, one.path
    for name in key.split("."):
        path = f"{path}.{name}"
        value = getattr(value, name.replace("-", "_"), None)
        if value is None:
            break
    return value, path
