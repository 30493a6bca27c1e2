"""Short files: chains, values said once, and what is filled in with its band."""

import math

import pytest
from layout_samples import SMALL, changed, faults_in, only_fault

from plumbing.layout import read
from plumbing.layout.graded.ranges import BARB, BETWEEN, FROM_TANK
from plumbing.layout.tree import MOST_NODES
from plumbing.model.meshes import tank_mesh

SHORT = """\
format: 2
title: Heron
engines: {engine: 60 N}
tanks: {main: 1.5 L, header: 95 ml}
feed: main > header > fill tee > screen > pump > fine filter > engine
vent: main > vent
fill: fill > fill tee
tube: {suction: polyurethane 6x4, pressure: nylon 4x2.5}
"""


def guessed(text):
    """Guesses of a file by what to measure."""
    return {one.words: one for one in read(text).guesses}


def test_a_chain_joins_what_it_names():
    """Each port by the use of its part: fuel leaves a main by `feed`, a header by `out`."""
    lines = read(SHORT).lines
    assert {name: (line.from_, line.to) for name, line in lines.items()} == {
        "main to header": ("main.feed", "header.in"),
        "header to fill tee": ("header.out", "fill tee.run-a"),
        "fill tee to screen": ("fill tee.run-b", "screen.in"),
        "screen to pump": ("screen.out", "pump.in"),
        "pump to fine filter": ("pump.out", "fine filter.in"),
        "fine filter to engine": ("fine filter.out", "engine.feed"),
        "main to vent": ("main.vent", "vent.tube"),
        "fill to tee": ("fill.tube", "fill tee.branch"),
    }


def test_tubes_by_side():
    """Behind the pump is the pressure side; vents and fills are as before it."""
    tubes = {name: line.tube for name, line in read(SHORT).lines.items()}
    pressed = {"pump to fine filter", "fine filter to engine"}
    assert {name for name, tube in tubes.items() if tube == "nylon 4x2.5"} == pressed


def test_a_length_and_a_tube_inside_a_chain():
    """They are those of the line between the two names."""
    chain = "feed: main > polyurethane 8x5 > 420 mm > header > 70 mm > fill tee"
    text = changed(("feed: main > header > fill tee", chain), text=SHORT)
    lines = read(text).lines
    assert lines["main to header"].tube == "polyurethane 8x5"
    assert lines["main to header"].cut_length == pytest.approx(0.42)
    assert lines["header to fill tee"].cut_length == pytest.approx(0.07)
    assert lines["header to fill tee"].tube == "polyurethane 6x4"
    assert "length of line main to header" not in guessed(text)


def test_lengths_for_all_lines_at_once():
    """One for every side; then none is guessed."""
    text = SHORT + "length: {suction: 120 mm, pressure: 80 mm, vent: 300 mm}\n"
    lines = read(text).lines
    assert lines["screen to pump"].cut_length == pytest.approx(0.12)
    assert lines["fill to tee"].cut_length == pytest.approx(0.12)  # as the suction side
    assert lines["pump to fine filter"].cut_length == pytest.approx(0.08)
    assert lines["main to vent"].cut_length == pytest.approx(0.3)
    assert not [words for words in guessed(text) if words.startswith("length")]


def test_a_file_grows_key_by_key():
    """What a section says of a part or line of a chain counts, and is no longer guessed."""
    text = SHORT + "lines: {main to header: {length: 375 mm}}\npumps: {pump: {bore: 4 mm}}\n"
    layout = read(text)
    assert layout.lines["main to header"].cut_length == pytest.approx(0.375)
    assert layout.lines["main to header"].from_ == "main.feed"
    assert layout.pumps["pump"].bore == pytest.approx(4e-3)
    before, after = guessed(SHORT), guessed(text)
    assert set(before) - set(after) == {"length of line main to header"}
    bores = "bore of barbs and fittings on polyurethane 6x4"
    assert set(before[bores].paths) - set(after[bores].paths) == {"pumps.pump.bore"}


@pytest.mark.outside("volume of a box, length times width times height", quantity="tank volume [L]")
def test_a_volume_is_a_box_of_it():
    """Its ports are in the wall, its floor where all floors are."""
    layout = read(SHORT)
    for name, volume in (("main", 1.5e-3), ("header", 95e-6)):
        tank = layout.tanks[name]
        assert math.prod(tank.shape.size) == pytest.approx(volume, rel=1e-4)
        low, high = tank_mesh(tank).bounds
        assert low[2] == pytest.approx(0.0, abs=1e-6)
        for port in tank.ports.values():
            inside = [a - 1e-9 <= p <= b + 1e-9 for a, p, b in zip(low, port.at, high, strict=True)]
            assert all(inside)


def test_inner_sizes_in_place_of_a_volume():
    """A box of those sizes, of which only the place is not said."""
    text = changed(("main: 1.5 L", "main: 240x90x70 mm"), text=SHORT)
    assert read(text).tanks["main"].shape.size == pytest.approx((0.24, 0.09, 0.07))
    assert "height of tank main" not in guessed(text)
    assert "tanks.main.shape.at" in read(text).unsaid


def test_heights_without_places():
    """A pump 40 mm below the floor of the tank stands so, and that is no longer guessed."""
    text = SHORT + "pumps: {pump: {height: -40 mm}}\n"
    assert read(text).pumps["pump"].at[2] == pytest.approx(-0.04)
    words = "height of the inlet of pump over that of main"
    assert words in guessed(SHORT)
    assert words not in guessed(text)


def test_bands_are_those_of_practice():
    """Of barbs as shares of the tube's bore, of lengths by what a line joins."""
    found = guessed(SHORT)
    bores = found["bore of barbs and fittings on polyurethane 6x4"]
    assert (bores.low, bores.usual, bores.high) == pytest.approx(BARB.times(4e-3))
    lengths = [found[f"length of line {name}"] for name in ("main to header", "screen to pump")]
    for one, could in zip(lengths, (FROM_TANK, BETWEEN), strict=True):
        assert (one.low, one.usual, one.high) == pytest.approx(could)


def test_everything_filled_in_is_listed():
    """Each guess that is in the model, and all that has no band, is among the assumptions."""
    layout = read(SHORT)
    listed = {one.what for one in layout.assumptions}
    assert set(layout.unsaid) <= listed
    assert {"pumps.pump.bore", "lines.main to header.cut-length"} <= listed


def test_defaults_and_groups():
    """An entry's own value counts most, then its groups in order, then the defaults."""
    text = SHORT + (
        "defaults: {lines: {colour: clear, clips: 100 mm}}\n"
        "groups: {soft: {colour: yellow, age: 5 months}, old: {age: 2 years, clips: 60 mm}}\n"
        "lines:\n"
        "  main to header: {as: [soft, old]}\n"
        "  screen to pump: {as: soft, colour: red}\n"
    )
    lines = read(text).lines
    first, second = lines["main to header"], lines["screen to pump"]
    assert (first.colour, second.colour) == ("yellow", "red")
    assert first.age == second.age
    assert (first.clips, second.clips) == pytest.approx((0.06, 0.1))
    assert lines["main to vent"].colour == "clear"


@pytest.mark.parametrize(
    ("more", "found", "expected"),
    [
        ("lines: {main to header: {as: sfot}}\ngroups: {soft: {}}\n", "no group `sfot`", "`soft`"),
        ("groups: {a: {as: b}, b: {}}\n", "`as` in `groups`", "values only"),
        ("defaults: {joints: {lock: wire}}\n", "defaults for no section", "one of"),
        ("length: 12\n", "`12`", "length"),
        ("pumps: {pump: {height: high}}\n", "`high`", "length"),
    ],
)
def test_slips(more, found, expected):
    """What is not understood is a fault with what was expected."""
    faults = faults_in(SHORT + more)
    assert any(found in one.found and expected in one.expected for one in faults), faults


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        ("> pump >", "> gizmo >", "`gizmo` in a chain"),
        ("header: 95 ml", "heder: 95 ml", "tank `header` without `capacity`"),
        ("vent: main > vent", "vent: main", "`main`"),
        ("feed: main > header", "feed: main > header.in", "inside a chain"),
        ("engine: 60 N", "engine: sixty", "`sixty`"),
    ],
)
def test_slips_in_chains(old, new, found):
    """A name nobody knows is never taken for a new part without a word."""
    faults = faults_in(changed((old, new), text=SHORT))
    assert any(found in one.found for one in faults), faults


def test_a_name_nobody_knows_is_all_that_is_told():
    """The nearest name is offered, and no line or port is said to miss because of it."""
    (fault,) = faults_in(changed(("> engine", "> engin"), text=SHORT))
    assert fault.found == "`engin` in a chain"
    assert fault.expected.startswith("`engine`, the nearest known")


def test_groups_are_no_bomb():
    """Many entries that take a large group are refused, not laid out."""
    group = ", ".join(f"k{number}: 1" for number in range(200))
    entries = "\n".join(f"  l{number}: {{as: big}}" for number in range(200))
    faults = faults_in(f"{SHORT}groups: {{big: {{{group}}}}}\nlines:\n{entries}\n")
    assert [one.found for one in faults] == [f"more than {MOST_NODES} values"]


def test_a_misspelt_port_stays_a_fault():
    """A tank that lists its ports gets none from a slip in a line."""
    fault = only_fault(("from: main.feed", "from: main.fead"))
    assert "no port `fead`" in fault.found


def test_a_full_file_is_as_it_is():
    """Where a place, a bore or a tube is said, nothing is put in its stead."""
    layout = read(SMALL)
    assert layout.unsaid == ()
    assert layout.pumps["pump"].at == pytest.approx((0.6, 0.0, 0.0))
