"""The demo aircraft and the starters: without faults, and what each is meant to show."""

from itertools import pairwise

import numpy as np
import pytest
from layout_samples import DEMOS, LAYOUTS

from plumbing.geometry.inset import contains
from plumbing.layout import STARTERS, load, read, starter
from plumbing.model.layout import port_position, split_port
from plumbing.model.meshes import tank_mesh

SOUND = [path for path in DEMOS if path.stem != "bad"]
NAMES = {
    "bag-main",
    "single-main",
    "chained-pair",
    "teed-pair",
    "teed-pair-repaired",
    "wings-into-main",
    "twin",
    "bad",
}


def test_all_demos_are_there():
    """There is a demo of every topology, a repaired twin, and a bad one."""
    assert {path.stem for path in DEMOS} == NAMES


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_demo_has_no_fault(path):
    """Every demo can be read, begins with a comment, and fits its lines in 100 columns."""
    layout = load(path)
    assert layout.engines
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# ")
    assert max(map(len, text.splitlines())) <= 100


@pytest.mark.parametrize("name", STARTERS)
def test_starter_has_no_fault(name):
    """Every starter can be read, says what it is, and fits its lines in 100 columns."""
    text = starter(name)
    layout = read(text, name)
    assert layout.headers()
    assert text.startswith("# ")
    assert max(map(len, text.splitlines())) <= 100


def test_no_other_starter():
    """A starter that is not there is a KeyError."""
    with pytest.raises(KeyError):
        starter("../single-main")


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_every_port_is_used(path):
    """In the demos every tank port is capped or has a line."""
    layout = load(path)
    joined = {end for line in layout.lines.values() for end in (line.from_, line.to)}
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            assert port.capped or f"{tank.name}.{port.name}" in joined


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_tanks_do_not_overlap(path):
    """No tank of a demo stands in another."""
    meshes = [tank_mesh(tank) for tank in load(path).tanks.values()]
    for one in meshes:
        for other in meshes:
            if one is not other:
                assert not contains(other, one.vertices).any()


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_passages_lie_on_the_routes(path):
    """Where a demo's line goes through a passage, its route meets the hole's centre within 2 mm."""
    layout = load(path)
    for line in layout.lines.values():
        ends = [port_position(layout.part(p), q) for p, q in map(split_port, (line.from_, line.to))]
        points = np.array([ends[0], *line.route, ends[1]])
        for reference in line.through:
            name, _, hole = reference.partition(".")
            former = layout.formers[name]
            across = "xyz".index(former.across)
            rest = [axis for axis in range(3) if axis != across]
            crossings = [
                a + (former.station - a[across]) / (b[across] - a[across]) * (b - a)
                for a, b in pairwise(points)
                if (a[across] - former.station) * (b[across] - former.station)
                <= 0
                != b[across] - a[across]
            ]
            away = [np.abs(c[rest] - np.array(former.passages[hole].at)).max() for c in crossings]
            assert min(away, default=1.0) < 2e-3, (line.name, reference, away)


def test_teed_pair_is_unequal():
    """The teed pair has branches of 0.3 and 0.9 m of 4 mm bore; its repair has no tee for fuel."""
    teed, repaired = load(LAYOUTS / "teed-pair.yaml"), load(LAYOUTS / "teed-pair-repaired.yaml")
    branches = [teed.lines[f"{side} branch"] for side in ("port", "starboard")]
    assert [line.cut_length for line in branches] == pytest.approx([0.3, 0.9])
    assert {teed.tube_of(line).inside_diameter for line in branches} == {4e-3}
    assert "suction tee" in teed.tees
    assert "suction tee" not in repaired.tees
    assert repaired.fuel == teed.fuel
    assert repaired.engines == teed.engines


def test_header_seconds():
    """Sound demos have headers of 20 s at full flow or more."""
    for path in SOUND:
        layout = load(path)
        volume = sum(tank_mesh(tank).volume for tank in layout.headers())
        flow = sum(engine.full_flow or 0.0 for engine in layout.engines.values())
        assert volume / flow >= 20.0, path.stem
