"""Every way a value can be wrong, with its message and its place."""

import math

import pytest
from layout_samples import SMALL, changed, faults_in, only_fault, place_of, right

from plumbing.model.tank import Box

VALUES = [
    # changed text, its replacement, what stands at the fault's place, found, expected
    ("thrust: 60 N", "thrust: 60", "60}", "`60` without a unit", "a force such as `160 N`"),
    ("thrust: 60 N", "thrust: 60,5 N", "60,5 N}", "`60,5 N` with a decimal comma", "`60.5 N`"),
    ("thrust: 60 N", "thrust: '60,5 N'", "'60,5 N'", "`60,5 N` with a decimal comma", "`60.5 N`"),
    ("[0 mm, 20 mm]", "[0,5 mm, 20 mm]", "0,5 mm", "`0,5 mm` with a decimal comma", "`0.5 mm`"),
    ("thrust: 60 N", "thrust: 60 mm", "60 mm}", "`60 mm`, which is a length", "a force such as"),
    ("thrust: 60 N", "thrust: lots", "lots", "`lots`", "a force such as `160 N`"),
    ("thrust: 60 N", "thrust: nan N", "nan N", "`nan N`", "a force such as `160 N`"),
    ("thrust: 60 N", "thrust: inf N", "inf N", "`inf N`", "a force such as `160 N`"),
    ("thrust: 60 N", "thrust: .inf", ".inf", "`.inf`", "a force such as `160 N`"),
    ("thrust: 60 N", "thrust: 1e999 N", "1e999 N", "`1e999 N`, which is not a finite", "a force"),
    ("thrust: 60 N", "thrust: 1e9 N", "1e9 N", "`1e9 N`, out of bounds", "from 0 N to 10000 N"),
    ("thrust: 60 N", "thrust: -6 N", "-6 N", "`-6 N`, out of bounds", "from 0 N to 10000 N"),
    (
        "thrust: 60 N",
        "thrust: 60 blobs",
        "60 blobs",
        "`60 blobs` with a unit that does not fit",
        "",
    ),
    ("thrust: 60 N", "thrust: 6 N**9**9**9", "6 N**", "`6 N**9**9**9` with an unknown unit", ""),
    ("thrust: 60 N", "thrust: [60 N]", "[60 N]", "a list", "a force such as `160 N`"),
    ("thrust: 60 N", "thrust: {a: 1}", "{a: 1}", "a mapping", "a force such as `160 N`"),
    ("thrust: 60 N", "thrust: ", "}\ntanks", "nothing", "a force such as `160 N`"),
    ("kind: clunk", "kind: clonk", "clonk", "`clonk`", "`clunk` (one of `fixed`, `clunk`"),
    ("kind: clunk", "kind: 7", "7, reach", "`7`", "one of `fixed`, `clunk`, `fine-pore`"),
    ("kind: clunk", "kind: [clunk]", "[clunk]", "a list", "one of `fixed`"),
    ("diameter: 9 mm", "diameter: 9 mm, sealed: maybe", "maybe", "`maybe`", "`planned`"),
    ("[0 mm, 20 mm]", "[0 mm]", "[0 mm]", "a list of 1", "2 lengths, each with its unit"),
    ("[0 mm, 20 mm]", "[0, 20]", "[0, 20]", "numbers without a unit", "2 lengths, each with"),
    ("[0 mm, 20 mm]", "[0 mm, 20]", "20], diam", "`20` without a unit", "a length such as"),
    ("[0 mm, 20 mm]", "20 mm", "20 mm, diam", "`20 mm`", "such as `[12 mm, -30 mm]`"),
    ("[900 mm, 0 mm, 0 mm]", "900 mm", "900 mm", "`900 mm`", "`[420 mm, 0 mm, 35 mm]`"),
    ("title: Small", "title: ''", "''", "``", "a text"),
    ("title: Small", "title: {a: b}", "{a: b}", "a mapping", "a text"),
    ("title: Small", "title: " + "x" * 600, "xxx", "a text of 600 characters", "at most 500"),
    ("shape: {box: {", "shape: {boxx: {", "boxx", "unknown kind `boxx`", "`box`, the nearest"),
    ("shape: {box: {", "shape: {zzz: {", "zzz", "unknown kind `zzz`", "one of `box`, `cylinder`"),
    ("feed-order: [main]", "feed-order: main", "main\n", "`main`", "a list such as"),
    ("feed-order: [main]", "zones: [a]", "[a]", "a list", "entries as `name: {...}`"),
    ("feed-order: [main]", "zones: {a: 1}", "1}\n", "`1`", "a mapping with one of `kind:`"),
    ("throttle: 50 %", "throttle: 0.5", "0.5}", "`0.5` without a unit", "a share such as `55 %`"),
    ("throttle: 50 %", "throttle: 150 %", "150 %", "`150 %`, out of bounds", "from 0 % to 100 %"),
    ("throttle: 50 %}", "throttle: 50 %, repeat: 1.5}", "1.5}", "`1.5`", "a whole number"),
    (
        "throttle: 50 %}",
        "throttle: 50 %, repeat: 0}",
        "0}\nfeed",
        "`0`, out of bounds",
        "1 to 1000",
    ),
]


@pytest.mark.parametrize(("old", "new", "at", "found", "expected"), VALUES)
def test_wrong_value(old, new, at, found, expected):
    """A wrong value is one fault: what was found, what was expected, and the value's place."""
    fault = only_fault((old, new))
    assert fault.found.startswith(found)
    assert expected in fault.expected
    text = changed((old, new))
    line, column = place_of(text, at)
    if found == "nothing":  # where it would stand: right behind the key
        column -= 1
    assert (fault.place.line, fault.place.column) == (line, column)


KEYS = [
    ("thrust: 60 N", "thrst: 60 N", "thrst", "unknown key `thrst`", "`thrust`, the nearest known"),
    ("bore: 4 mm", "bor: 4 mm", "bor:", "unknown key `bor`", "`bore`, the nearest known"),
    (
        "title: Small",
        "title: Small\ndry_mass: 9 kg",
        "dry_mass",
        "unknown key `dry_mass`",
        "one of",
    ),
    ("title: Small", "title: Small\nengine: {}", "engine: {}", "unknown key `engine`", "`engines`"),
    (
        "title: Small",
        "title: Small\nbore-tolerance: 1 mm",
        "bore-tolerance",
        "unknown key `bore-tolerance`",
        "`tolerances: {bore: 0.1 mm}`",
    ),
]


@pytest.mark.parametrize(("old", "new", "at", "found", "expected"), KEYS)
def test_unknown_key(old, new, at, found, expected):
    """An unknown key is a fault with the nearest right key."""
    text = changed((old, new))
    fault = next(fault for fault in faults_in(text) if fault.found == found)
    assert fault.expected.startswith(expected)
    assert (fault.place.line, fault.place.column) == place_of(text, at)


MISSING = [
    ("title: Small\n", "", "the layout without `title`", "`title`: name of the aircraft"),
    (", diameter: 9 mm}", "}", "`formers.F2.passages.p1` without `diameter`", "`diameter`: hole"),
    ("to: pump.in, ", "", "`lines.feed` without `to`", "`to`: port it ends at"),
    ("station: 400 mm, ", "", "`formers.F2` without `station`", "`station`: position along"),
]


@pytest.mark.parametrize(("old", "new", "found", "expected"), MISSING)
def test_missing_key(old, new, found, expected):
    """A missing key is a fault at the part it is missing from."""
    fault = only_fault((old, new))
    assert fault.found == found
    assert fault.expected.startswith(expected)


def test_place_of_a_missing_key():
    """What is missing is missed where the part begins."""
    text = changed(("station: 400 mm, ", ""))
    (fault,) = faults_in(text)
    assert (fault.place.line, fault.place.column) == place_of(text, "F2: {thick")


NAMES = ["a.b", "x" * 41, " ' padded '", "a/b", "a\\b", "<b>", "a:b", "'a\"b'", "''", "a%b"]


@pytest.mark.parametrize("name", NAMES)
def test_names_refused(name):
    """Names are letters, digits, spaces, hyphens and underscores, 1 to 40 of them."""
    key = name if name[0] in "'\" " else f"'{name}'"
    text = changed(("outlets:\n  vent: {", f"outlets:\n  {key.strip()}: {{"))
    found = [fault for fault in faults_in(text) if fault.found.startswith("the name")]
    assert len(found) == 1
    assert found[0].expected == "1 to 40 letters, digits, spaces, `-` and `_`"


@pytest.mark.parametrize("name", ["Ölkühler", "бак 1", "水箱", "a-b_c 2", "é", "7"])
def test_names_allowed(name):
    """Names may be in any language."""
    layout = right(
        ("pump: {at", f"{name}: {{at"),
        ("to: pump.in", f"to: {name}.in"),
        ("from: pump.out", f"from: {name}.out"),
    )
    assert layout.pumps[name].name == name


def test_tube_names_may_have_a_point():
    """Sizes have a decimal point, so names of tubes may."""
    tube = (
        "tubes:\n  my 4x2.5: {outside-diameter: 4 mm, inside-diameter: 2.5 mm, material: nylon}\n"
    )
    layout = right(("nylon 4x2.5", "my 4x2.5"), ("feed-order", tube + "feed-order"))
    assert layout.tube_of(layout.lines["pressure"]).inside_diameter == pytest.approx(2.5e-3)


@pytest.mark.parametrize(
    "version", ["3", "0", "1.0", "one", "'1'", "[1]", "-1", "999999999999999999"]
)
def test_format_version(version):
    """Another format is the only fault reported, with what to do about it."""
    found = faults_in(changed(("format: 2", f"format: {version}")) + "unknown: 1\n")
    if version in ("'1'", "1"):  # quoted, but the right one
        assert [fault.found for fault in found] == ["unknown key `unknown`"]
        return
    (fault,) = found
    assert fault.found.startswith("format ")
    assert fault.expected.startswith("`format: 2`")
    assert ("newer" in fault.expected) == (version in ("3", "999999999999999999"))


def test_no_format():
    """A file without a format is told its first line."""
    (fault,) = faults_in(changed(("format: 2\n", "")))
    assert fault.found == "a file without `format`"
    assert fault.expected == "`format: 2` as first line"


def test_all_faults_together():
    """Faults of every kind in one file are reported together, in the order of the file."""
    text = changed(
        ("title: Small", "titel: Small"),
        ("thrust: 60 N", "thrust: 60"),
        ("size: [200 mm, 100 mm, 80 mm]", "size: [200 mm, 100 mm]"),
        ("bore: 3 mm", "bore: 3 kg"),
        ("to: pump.in", "to: pmp.in"),
        ("[0 mm, 20 mm]", "[0 mm, 200 mm]"),
    )
    found = faults_in(text)
    lines = [fault.place.line for fault in found]
    assert lines == sorted(lines)
    words = [fault.found for fault in found]
    assert "unknown key `titel`" in words
    assert "the layout without `title`" not in words  # it is there, under another name
    assert "`60` without a unit" in words
    assert "a list of 2" in words
    assert "`3 kg`, which is a mass" in words
    assert "no part `pmp`" in words
    assert "passage `p1` outside former `F2`" in words
    assert len(found) == 6


def test_a_broken_part_is_not_missed_elsewhere():
    """A part with a fault of its own is still known to the lines that name it."""
    fault = only_fault(("bore: 3 mm", "bore: 3"))
    assert fault.found == "`3` without a unit"


def test_a_broken_value_is_not_a_contradiction():
    """A value with a fault is not reported again as missing."""
    assert only_fault(("thrust: 60 N", "thrust: sixty")).found == "`sixty`"
    assert only_fault(("duration: 60 s", "duration: sixty")).found == "`sixty`"


def test_many_faults_are_bounded():
    """A file of nothing but faults is answered, too."""
    text = SMALL + "".join(f"unknown-{k}: 1\n" for k in range(3000))
    assert len(faults_in(text)) == 200


def test_everything_is_read():
    """What stands in the file stands in the model, in SI."""
    layout = right()
    tank = layout.tanks["main"]
    assert isinstance(tank.shape, Box)
    assert tank.shape.size == pytest.approx((0.2, 0.1, 0.08))
    assert tank.ports["feed"].pickup is not None
    assert tank.ports["feed"].pickup.reach == pytest.approx(0.12)
    assert layout.lines["feed"].from_ == "main.feed"
    assert layout.flights["sport"].phases[0].throttle == 0.5
    assert layout.formers["F2"].passages["p1"].at == pytest.approx((0.0, 0.02))
    assert layout.feed_order == ("main",)


def test_angles_and_temperatures():
    """Degrees become radians; temperatures stay in degrees Celsius."""
    layout = right(
        ("feed-order", "parking:\n  car: {pitch: 90 deg, hottest: 313.15 K}\nfeed-order")
    )
    assert layout.parking["car"].pitch == pytest.approx(math.pi / 2)
    assert layout.parking["car"].hottest == pytest.approx(40.0)


def test_parts_remember_their_places():
    """A part's place is its name; a field's place is its key."""
    layout = right()
    pump = layout.pumps["pump"]
    assert (pump.place.line, pump.place.column) == place_of(SMALL, "pump: {at")
    bore = pump.place_of("bore")
    assert (bore.line, bore.column) == place_of(SMALL, "bore: 3 mm")
    assert pump.place_of("mass") == pump.place
    assert pump.place.file == "a.yaml"
    line = layout.lines["feed"]
    assert line.place_of("from_").column == place_of(SMALL, "from: main.feed")[1]


def test_booleans():
    """Yes, no, true and false are understood, quoted or not."""
    for word, value in (
        ("yes", True),
        ("no", False),
        ("true", True),
        ("'no'", False),
        ("No", False),
    ):
        layout = right(("to: pump.in", f"to: pump.in, hidden-joint: {word}"))
        assert layout.lines["feed"].hidden_joint is value


def test_empty_sections():
    """A section with nothing in it yet is right, but for those nothing works without."""
    assert right(("feed-order", "zones:\ntees: {}\nfeed-order")).zones == {}
    for section in ("engines", "tanks", "lines"):
        text = SMALL[: SMALL.index(f"{section}:")] + f"{section}:\n"
        assert f"`{section}` with nothing in it" in [fault.found for fault in faults_in(text)]


def test_texts_are_one_line():
    """Line ends within a text become spaces, so that none reaches an output."""
    layout = right(("title: Small", 'title: "a\\n  b\\tc"'))
    assert layout.title == "a b c"
