"""The bench test cards: a card a test, with what is predicted, what must be met, and a box.

The words stand in `bench_tests.toml`. A test has a title, its purpose, the hands (cautions that
stand where the hand is), whether there is fuel in the system, the set-up, the steps, what is read
(`reads`: what it is called, by the name under `measured:`), what is seen by eye, and what a
failure means.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from importlib.resources import files
from typing import Any

from plumbing import units
from plumbing.frozen import frozen
from plumbing.model.measured import MEASURES, Measured
from plumbing.report.words import figure, sentence
from plumbing.studies.bench import Predictions, Reading

_LEAST = 5e-7  # less air than this is none [m3]
_HARDLY = 100.0  # less than a gauge shows [Pa]
_WHOLE = {"left-over": "all tanks", "fill-volume": "every fill port", "drain-time": "every tank"}


@frozen
class Row:
    """One value to read, or the reading that the layout file has already."""

    words: str
    expected: str
    band: str
    limit: str
    rule: str
    how: str
    reaches: bool
    read: str
    passed: str


@frozen
class Card:
    """One test.

    Attributes
    ----------
    number : int
        Place in the order in which they are done.
    name, title, purpose, setup, seen, fails : str
        The words of the table.
    fuel : bool
        Whether there is fuel in the system.
    hands, steps : tuple of str
        Cautions, and what to do.
    rows : tuple of Row
        What is read.
    signed : tuple of str
        Day, name and instrument of the readings that there are already.
    """

    number: int
    name: str
    title: str
    purpose: str
    setup: str
    seen: str
    fails: str
    fuel: bool
    hands: tuple[str, ...]
    steps: tuple[str, ...]
    rows: tuple[Row, ...]
    signed: tuple[str, str, str]


def bench_cards(found: tuple[Reading, ...], measured: Iterable[Measured] = ()) -> tuple[Card, ...]:
    """Cards of all tests of a layout, in the order in which they are done.

    Parameters
    ----------
    found : tuple of Reading
        What is to be read.
    measured : iterable of Measured
        What was read already.
    """
    done = tuple(measured)
    return tuple(_card(number, *one, found, done) for number, one in enumerate(_tests(), start=1))


def by_test(found: tuple[Reading, ...]) -> Iterator[tuple[int, Reading]]:
    """Readings in the order of the tests, with the number of the test."""
    for number, (_, test) in enumerate(_tests(), start=1):
        for what in test["reads"]:
            yield from ((number, one) for one in found if one.what == what)


def test_titles() -> dict[str, str]:
    """Number and title of every test by its name in the table, in order."""
    return {name: f"{n} {one['title']}" for n, (name, one) in enumerate(_tests(), start=1)}


@cache
def _table() -> dict[str, Any]:
    text = files(__package__).joinpath("bench_tests.toml").read_text("utf-8")
    return tomllib.loads(text)


def _tests() -> list[tuple[str, dict[str, Any]]]:
    return [(name, one) for name, one in _table().items() if name != "hands"]


def _card(
    number: int,
    name: str,
    test: dict[str, Any],
    found: tuple[Reading, ...],
    measured: tuple[Measured, ...],
) -> Card:
    own = [one for one in measured if one.what in test["reads"]]
    rows = [
        _row(words, one, own)
        for what, words in test["reads"].items()
        for one in found
        if one.what == what
    ]
    return Card(
        number=number,
        name=name,
        title=test["title"],
        purpose=test["purpose"],
        setup=test["setup"],
        seen=test["seen"],
        fails=test["fails"],
        fuel=test["fuel"],
        hands=tuple(_table()["hands"][hand] for hand in test["hands"]),
        steps=tuple(test["steps"]),
        rows=tuple(rows),
        signed=(_each(one.on for one in own), _each(one.by for one in own), _with(own)),
    )


def _each(texts: Iterable[str | None]) -> str:
    return ", ".join(dict.fromkeys(filter(None, texts)))


def _with(readings: list[Measured]) -> str:
    return _each(one.instrument for one in readings)


def _row(words: str, one: Reading, measured: list[Measured]) -> Row:
    place = one.part or one.state or _WHOLE.get(one.what, "the system")
    mark, value = one.mark, one.figure
    reaches = bool(mark and value and not all(map(mark.passes, _ends(one))))
    return Row(
        words=sentence(words.format(place)).removesuffix("."),
        expected="" if value is None else _value(one),
        band="" if value is None else figure(value).partition("(")[2].removesuffix(")"),
        limit=mark.words() if mark else "in this order" if one.what == "drain-time" else "",
        rule="" if mark is None else mark.rule,
        how=one.how,
        reaches=reaches,
        **_read(one, measured),
    )


def _read(one: Reading, measured: list[Measured]) -> dict[str, str]:
    """The last reading of the file for it, and whether it passed."""
    same = [x for x in measured if (x.what, x.part or "", x.state or "") == _key(one)]
    kind = MEASURES[one.what]
    value: float | None = getattr(same[-1], kind) if same else None
    if value is None:
        return {"read": "", "passed": ""}
    met = None if one.mark is None else one.mark.met_by(value, same[-1].at_flow)
    return {
        "read": units.show(value, kind),
        "passed": {True: "yes", False: "NO", None: ""}[met],
    }


def _key(one: Reading) -> tuple[str, str, str]:
    return one.what, one.part, one.state


def _ends(one: Reading) -> list[float]:
    """The ends of the band, which may reach beyond the limit."""
    value = one.figure
    ends = [value.low, value.high, value.value] if value else []
    return [end for end in ends if end is not None]


def _value(one: Reading) -> str:
    value = one.figure
    if value is None or value.value <= 0.0:
        return "none"
    if value.kind == "pressure" and value.value < _HARDLY:
        return f"under {units.show(_HARDLY, 'pressure')}"
    return units.show(value.value, value.kind)


def trapped(predictions: Predictions) -> tuple[tuple[str, str], ...]:
    """Air that stays in each tank after filling: tank and volume."""
    found: dict[str, str] = {}
    for filled in predictions.fillings.values():
        for tank in filled.tanks.values():
            found.setdefault(tank.tank, _air(tank.trapped))
    return tuple(found.items())


def _air(volume: float) -> str:
    """Air that can be measured at all."""
    return "none" if volume < _LEAST else units.show(volume, "volume", 2)
