"""Spellings of quantities as builders write them and reports say them."""

import pytest

from plumbing import units


@pytest.mark.parametrize("seconds", [0.0, 45.0, 60.0, 315.0, 5999.0])
def test_a_time_is_read_as_it_is_said(seconds):
    """The timer a report prints may be copied into the file."""
    assert units.parse(units.clock(seconds), "time") == seconds


@pytest.mark.parametrize(
    "text", ["5 min 15", "5 min 15 s 3 s", "5 h 15 s", "min 15 s", "1.5 min 3 s"]
)
def test_half_a_time_is_not_read(text):
    """What only looks like minutes and seconds is refused."""
    with pytest.raises(units.UnitError):
        units.parse(text, "time")


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
    with pytest.raises(units.UnitError, match=r"decimal comma.*`17\.5 kg`"):
        units.parse("17,5 kg", "mass")
