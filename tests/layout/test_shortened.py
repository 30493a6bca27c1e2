"""Short layouts from a few answers: what was said is in them, and what was not is listed."""

import pytest

from plumbing import api
from plumbing.errors import UsageError
from plumbing.layout import STARTERS, read, starter
from plumbing.layout.answers import Answers, engine_said, tank_said, tube_said
from plumbing.layout.shortened import shortened, tanks_of
from plumbing.model.meshes import tank_mesh


@pytest.mark.parametrize("name", STARTERS)
def test_tanks_are_as_large_as_was_said(name):
    """The solid of each tank has the volume that was said."""
    said = {tank: 0.3e-3 * (2 + number) for number, tank in enumerate(tanks_of(name))}
    layout = read(shortened(Answers(starter=name, tanks=said)).text)
    for tank, volume in said.items():
        assert tank_mesh(layout.tanks[tank]).volume == pytest.approx(volume, rel=1e-4)


@pytest.mark.parametrize("name", STARTERS)
def test_a_short_starter_is_the_full_one_in_few_lines(name):
    """Its parts, engines and tanks, by name and size; a dozen lines against a hundred and more."""
    text = shortened(Answers(starter=name)).text
    short, full = read(text), read(starter(name))
    for tank in full.tanks.values():
        own = tank_mesh(short.tanks[tank.name]).volume
        assert own == pytest.approx(tank_mesh(tank).volume, rel=1e-2)
    for section in ("engines", "tees", "filters", "pumps", "valves", "outlets", "fill_ports"):
        assert set(getattr(short, section)) == set(getattr(full, section))
    thrusts = {one.name: one.thrust for one in full.engines.values()}
    assert {one.name: one.thrust for one in short.engines.values()} == thrusts
    said = [row for row in text.splitlines() if row and not row.startswith("#")]
    assert len(said) <= 15


def test_sizes_said_are_the_sizes():
    """Three inner sizes make a box of them, also of what is a cylinder in the starter."""
    said = {"main": (0.24, 0.09, 0.07), "header": (0.06, 0.05, 0.04)}
    layout = read(shortened(Answers(starter="single-main", tanks=said)).text)
    for tank, sizes in said.items():
        assert layout.tanks[tank].shape.size == pytest.approx(sizes, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "key", "value"),
    [("60 N", "thrust", 60.0), ("220 ml/min", "full-flow", 220e-6 / 60.0)],
)
def test_engine_is_as_said(text, key, value):
    """By thrust or by flow, in every engine; the other is not made up in the file."""
    answers = Answers(starter="twin-engine", engine=engine_said(text))
    layout = read(shortened(answers).text)
    for engine in layout.engines.values():
        assert getattr(engine, key.replace("-", "_")) == pytest.approx(value, rel=1e-5)
        assert (engine.thrust is None) == (key == "full-flow")


def test_tube_is_as_said():
    """The tube said is on every line before the pump."""
    answers = Answers(starter="single-main", tube=tube_said("PU 8 x 5 mm"))
    layout = read(shortened(answers).text)
    assert {line.tube for line in layout.lines.values()} == {"polyurethane 8x5", "nylon 4x2.5"}
    assert layout.lines["main to header"].tube == "polyurethane 8x5"


@pytest.mark.parametrize("name", STARTERS)
def test_what_was_not_said_is_listed(name):
    """In the result and at the top of the file; what was said is not among it."""
    first = next(iter(tanks_of(name)))
    made = shortened(Answers(starter=name, tanks={first: 1e-3}))
    top = made.text.partition("format: 2")[0]
    assert all(words in top for words in (*made.said, *made.assumed))
    assert any(words.startswith("thrust") for words in made.assumed)
    assert not any(words.startswith(f"{first} ") for words in made.assumed)
    others = set(tanks_of(name)) - {first}
    assert others == {o for o in others if any(w.startswith(f"{o} ") for w in made.assumed)}


@pytest.mark.parametrize(
    ("read_one", "text", "hint"),
    [
        (engine_said, "sixty", "60 N"),
        (engine_said, "60", "60 N"),
        (engine_said, "0 N", "60 N"),
        (tank_said, "1,5 L", "decimal comma"),
        (tank_said, "240x90 mm", "240x90x70 mm"),
        (tank_said, "2.4.0x90x70 mm", "240x90x70 mm"),
        (tank_said, "0 L", "100 L"),
        (tank_said, "3000 L", "100 L"),
        (tank_said, "½ gal", "1.5 L"),
        (tube_said, "PU", "which of"),
        (tube_said, "string", "polyurethane 6x4"),
    ],
)
def test_an_answer_that_cannot_be_read(read_one, text, hint):
    """The message says what was expected."""
    with pytest.raises(UsageError, match=r"expected|which of") as refused:
        read_one(text)
    assert hint in str(refused.value)


def test_all_wrong_answers_at_once():
    """Nothing is written, and each is named."""
    with pytest.raises(UsageError) as refused:
        api.shortened("single-main", "sixty", ["main=1,5 L", "tail=1 L", "main"], "string")
    assert len(str(refused.value).splitlines()) == 5
