"""Spellings of quantities as builders write them and reports say them."""

import pytest
from layout_samples import DEMOS

from plumbing import layout, quantities, units
from plumbing.layout.slips import slip_in


@pytest.mark.parametrize("seconds", [0.0, 45.0, 60.0, 315.0, 5999.0])
def test_a_time_is_read_as_it_is_said(seconds):
    """The timer a report prints may be copied into the file."""
    assert quantities.parse(units.clock(seconds), "time") == seconds


@pytest.mark.parametrize(
    "text", ["5 min 15", "5 min 15 s 3 s", "5 h 15 s", "min 15 s", "1.5 min 3 s"]
)
def test_half_a_time_is_not_read(text):
    """What only looks like minutes and seconds is refused."""
    with pytest.raises(quantities.UnitError):
        quantities.parse(text, "time")


@pytest.mark.parametrize(
    ("value", "kind", "shown"),
    [
        (1.3024, "length", "1302 mm"),
        (0.43725, "length", "437 mm"),
        (20e-6, "length", "0.02 mm"),
        (5.78e-8, "volume", "0.1 ml"),
        (2.1e-8, "volume", "0 ml"),
        (1.2164e-3, "volume", "1.22 L"),
    ],
)
def test_no_more_digits_than_can_be_measured(value, kind, shown):
    """A place beyond a metre keeps its millimetre; a tenth of a millilitre is the least volume."""
    assert units.show(value, kind) == shown


def test_a_decimal_comma_is_named():
    """The message has the number with its point."""
    with pytest.raises(quantities.UnitError, match=r"decimal comma.*`17\.5 kg`"):
        quantities.parse("17,5 kg", "mass")


def test_length_of_a_line_is_its_cut_length():
    """A line of so much length is the same layout, and where it stands is remembered."""
    text = next(path for path in DEMOS if path.stem == "single-main").read_text("utf-8")
    cut = layout.read(text)
    short = layout.read(text.replace("cut-length: 375 mm", "length: 375 mm", 1))
    assert short == cut
    assert short.lines["feed"].cut_length == 0.375
    assert short.lines["feed"].places["cut_length"] == cut.lines["feed"].places["cut_length"]


@pytest.mark.parametrize("kind", units.KINDS)
def test_no_right_value_is_taken_for_a_slip(kind):
    """Every spelling of every unit is read, with powers of ten and signs too."""
    for unit in units.KINDS[kind].units:
        for number in ("3", "-1.5e-3", "2E3", ".5"):
            assert slip_in(f"{number} {unit}".strip(), kind) is None


@pytest.mark.outside("1 in = 25.4 mm exactly, international inch 1959", quantity="length [m]")
@pytest.mark.parametrize(("inches", "metres"), [("3/16", 4.7625e-3), ("1 1/2", 38.1e-3)])
def test_the_decimals_offered_for_a_fraction_are_right(inches, metres):
    """What the message offers is the same length."""
    offered = slip_in(f"{inches} in", "length")[1].split("`")[1]
    assert quantities.parse(offered, "length") == pytest.approx(metres, rel=1e-12)
