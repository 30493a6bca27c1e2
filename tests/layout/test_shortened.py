"""Short layouts from a few answers: what was said is in them, and it fits together."""

import math

import numpy as np
import pytest

from plumbing import api, units
from plumbing.errors import UsageError
from plumbing.layout import STARTERS, read, starter
from plumbing.layout.answers import Answers, engine_said, tank_said, tube_said
from plumbing.layout.scaling import corners
from plumbing.layout.shortened import shortened, tanks_of
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Box, Cylinder

ABOUT_SPACE = ("parts-overlap", "bend-too-tight", "bend-without-room", "former-through-tank")


def drawn(shape):
    """Volume of a box or a cylinder [m3], as learnt at school."""
    if isinstance(shape, Box):
        return math.prod(shape.size)
    assert isinstance(shape, Cylinder)
    return 0.25 * math.pi * shape.diameter**2 * shape.length


@pytest.mark.outside("volume of a box and of a cylinder, by hand", quantity="tank volume [L]")
@pytest.mark.parametrize("name", STARTERS)
def test_tanks_are_as_large_as_was_said(name):
    """Each tank has its own volume, to the tenth of a millimetre its sizes are written with."""
    said = {tank: 0.3e-3 * (2 + number) for number, tank in enumerate(tanks_of(name))}
    layout = read(shortened(Answers(starter=name, tanks=said)).text)
    for tank, volume in said.items():
        assert drawn(layout.tanks[tank].shape) == pytest.approx(volume, rel=5e-3)


@pytest.mark.parametrize("name", STARTERS)
def test_tanks_that_were_not_said_are_the_starters(name):
    """Their volume is that of the starter's solid, of whatever shape."""
    layout, full = read(shortened(Answers(starter=name)).text), read(starter(name))
    for tank in full.tanks.values():
        own = tank_mesh(layout.tanks[tank.name]).volume
        assert own == pytest.approx(tank_mesh(tank).volume, rel=5e-3)


def test_sizes_said_are_the_sizes():
    """Three inner sizes make a box of them, also of what is a cylinder in the starter."""
    said = {"main": (0.24, 0.09, 0.07), "header": (0.06, 0.05, 0.04)}
    layout = read(shortened(Answers(starter="single-main", tanks=said)).text)
    for tank, sizes in said.items():
        assert layout.tanks[tank].shape.size == pytest.approx(sizes, abs=1e-9)


@pytest.mark.slow
@pytest.mark.parametrize("name", STARTERS)
@pytest.mark.parametrize("seed", range(3))
def test_nothing_stands_in_the_way_of_anything(name, seed):
    """Whatever the tanks grow or shrink to, parts stay apart and no fault of space is found."""
    rng = np.random.default_rng(seed)
    sizes = {tank: v * math.exp(rng.uniform(-1.0, 1.0)) for tank, v in tanks_of(name).items()}
    found = api.check(read(shortened(Answers(starter=name, tanks=sizes)).text))
    assert [one.check for one in found.findings if one.check in ABOUT_SPACE] == []


@pytest.mark.parametrize("name", STARTERS)
def test_ports_are_in_the_wall(name):
    """Every port of a box is on one of its six sides."""
    layout = read(shortened(Answers(starter=name)).text)
    for tank in layout.tanks.values():
        if isinstance(tank.shape, Box):
            half = 0.5 * np.asarray(tank.shape.size)
            for port in tank.ports.values():
                share = np.abs(np.asarray(port.at) - tank.shape.at) / half
                assert share.max() == pytest.approx(1.0, abs=2e-2)


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


def test_tube_is_as_said_and_the_barb_fits_it():
    """The tube said is on every line before the pump; a barb is wider than the bore it is in."""
    answers = Answers(starter="single-main", tube=tube_said("PU 8 x 5 mm"))
    layout = read(shortened(answers).text)
    assert {line.tube for line in layout.lines.values()} == {"polyurethane 8x5", "nylon 4x2.5"}
    assert layout.lines["feed"].tube == "polyurethane 8x5"
    assert layout.joints["barb"].bore < 5e-3 < layout.joints["barb"].outside_diameter


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


def test_a_simple_aircraft_fits_a_screen():
    """No row is wider than a hundred columns."""
    for name in STARTERS:
        text = shortened(Answers(starter=name)).text
        assert max(map(len, text.splitlines())) <= 100
        assert len(text.splitlines()) < 0.5 * len(starter(name).splitlines())


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


def test_corners_follow_their_ends():
    """By hand: a line up, along and down again stays so when its ends move, at twice the height."""
    route = ((0.0, 0.0, 0.1), (0.2, 0.0, 0.1))
    ends = ((0.0, 0.0, 0.0), (0.2, 0.0, 0.0))
    moved = ((0.01, 0.02, 0.0), (0.5, 0.02, 0.0))
    found = corners(route, 2.0, ends, moved)
    assert np.allclose(found, [(0.01, 0.02, 0.2), (0.5, 0.02, 0.2)])
    assert units.show(found[0][2], "length") == "200 mm"
