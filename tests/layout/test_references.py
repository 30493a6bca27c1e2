"""Names that point at nothing, and ports asked to hold what they cannot."""

import pytest
from layout_samples import SMALL, changed, faults_in, only_fault, right

DANGLING = [
    ("to: pump.in", "to: pmp.in", "no part `pmp`", "`pump`, the nearest known"),
    ("to: pump.in", "to: pump.inn", "`pump` has no port `inn`", "`in`, the nearest known"),
    ("to: pump.in", "to: pump", "`pump` without its port", "one of `pump.in`, `pump.out`"),
    ("to: pump.in", "to: pump.in.x", "`pump` has no port `in.x`", "`in`"),
    ("from: main.feed", "from: main.fed", "`main` has no port `fed`", "`feed`, the nearest"),
    ("tube: nylon 4x2.5", "tube: 4x2.5", "no tube `4x2.5`", "one of `nylon 4x2.5`, `poly"),
    ("tube: nylon 4x2.5", "tube: nylon 4x25", "no tube `nylon 4x25`", "`nylon 4x2.5`, the nearest"),
    ("joint: barb", "joint: brab", "no joint `brab`", "`barb`"),
    ("joint: barb", "joint: barb, through: [F3.p1]", "no former `F3`", "`F2`"),
    ("joint: barb", "joint: barb, through: [F2.p2]", "no passage `F2.p2`", "`F2.p1`"),
    ("joint: barb", "joint: barb, through: [F2]", "no passage `F2`", "`F2.p1`"),
    ("feed-order: [main]", "feed-order: [mian]", "no tank `mian`", "`main`"),
    ("feed-order: [main]", "feed-order: [main, main]", "tank `main` twice", "every tank once"),
    ("feed-order:", "filling: {port: fil}\nfeed-order:", "no part `fil`", ""),
    ("feed-order:", "filling: {port: pump}\nfeed-order:", "`pump`, which is no fill port", ""),
    ("reach: 120 mm", "reach: 120 mm, joint: brab", "no joint `brab`", "`barb`"),
]


@pytest.mark.parametrize(("old", "new", "found", "expected"), DANGLING)
def test_dangling(old, new, found, expected):
    """A name that points at nothing is a fault with the nearest right name."""
    fault = only_fault((old, new))
    assert fault.found == found
    assert fault.expected.startswith(expected)
    assert fault.place.line > 1


def test_port_taken():
    """A port holds one line; the fault names both."""
    fault = only_fault(("from: main.vent", "from: main.feed"))
    assert fault.found == "port `main.feed` on line `vent` and on `feed`"
    assert "tee" in fault.expected


def test_line_to_itself():
    """A line from a port to the same port is a fault, also where the port is left out."""
    assert (
        "to itself"
        in only_fault(("from: pump.out, to: engine", "from: pump.out, to: pump.out")).found
    )
    assert (
        "to itself"
        in only_fault(("from: main.vent, to: vent,", "from: vent, to: vent.tube,")).found
    )


def test_one_name_for_two_parts():
    """Parts of all sections together have names of their own; lines may share them."""
    fault = only_fault(
        ("feed-order", "drains:\n  pump: {at: [0 mm, 0 mm, 0 mm], bore: 3 mm}\nfeed-order")
    )
    assert fault.found.startswith("a part `pump` in `drains` and in `pumps`, line ")
    assert "vent" in right().lines


def test_sole_port_may_be_left_out():
    """A part with one port needs no port's name; the model has it all the same."""
    layout = right()
    assert layout.lines["pressure"].to == "engine.feed"
    assert layout.lines["vent"].to == "vent.tube"


def test_own_tube_before_the_catalogue():
    """A tube of the file stands before one of the same name on the shelf."""
    tube = (
        "tubes:\n  nylon 4x2.5: {outside-diameter: 4 mm, inside-diameter: 2 mm, material: nylon}\n"
    )
    layout = right(("feed-order", tube + "feed-order"))
    assert layout.tube_of(layout.lines["pressure"]).inside_diameter == pytest.approx(2e-3)


def test_lines_of_a_missing_section():
    """Where a whole section is gone, every line that names it says so."""
    text = SMALL.replace("pumps:\n  pump: {at: [600 mm, 0 mm, 0 mm], bore: 3 mm}\n", "")
    assert [fault.found for fault in faults_in(text)] == ["no part `pump`", "no part `pump`"]


def test_measured_part():
    """A measured value may be of a part or of a line."""
    for part in ("main", "feed"):
        right(
            (
                "feed-order",
                f"measured:\n  m: {{what: left-over, part: {part}, volume: 3 ml}}\nfeed-order",
            )
        )
    text = changed(
        ("feed-order", "measured:\n  m: {what: left-over, part: x, volume: 3 ml}\nfeed-order")
    )
    assert [fault.found for fault in faults_in(text)] == ["no part `x`"]
