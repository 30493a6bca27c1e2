"""What a file leaves out widens what is said of it; it never turns it round."""

from statistics import median

import pytest

from plumbing.checks.examined import examine
from plumbing.layout import STARTERS, read
from plumbing.layout.starting import short_starter

from .stripped import as_it_is, bands_of, contradictions, stripped

NAMES = (*(name for name in STARTERS if name != "teed-pair"), "teed-pair")  # that takes longest
RIGHT = 0.9  # of the stripped files whose first thing to measure must tell more than most others


def some(few, many):
    """Few cases for the gate, all of them for an evening."""
    return [
        pytest.param(number, marks=pytest.mark.slow if number < few else pytest.mark.evening)
        for number in range(many)
    ]


@pytest.mark.outside("the full file, solved as it stands", quantity="suction [Pa], findings")
@pytest.mark.parametrize("number", some(8, 500))
def test_the_full_answer_is_inside_the_band(number):
    """Suctions of the full file lie in the bands; nothing is clear or told that is otherwise."""
    name = NAMES[number % (4 if number < 20 else 5)]
    assert contradictions(name, read(stripped(name, number))) == []


@pytest.mark.slow
@pytest.mark.outside("the full starter, solved as it stands", quantity="suction [Pa], findings")
@pytest.mark.parametrize("name", NAMES)
def test_a_dozen_lines_hold_the_full_answer(name):
    """The short form of each topology says nothing that the full one contradicts."""
    assert contradictions(name, read(short_starter(name))) == []


def _told(number):
    """Whether the first thing to measure narrows the deciding band more than most others do."""
    name = NAMES[number % len(NAMES)]
    layout = read(stripped(name, 1000 + number))
    before = bands_of(layout)
    band = max((one for one in before.bands if one.check), key=_undecided, default=None)
    asked = [one.guess for one in examine(layout).verdict.measure]
    if band is None or band.width == 0.0 or len(before.guesses) < 3:
        return None
    others = [one for one in before.guesses if one != asked[0]]

    def width(guess):
        after = bands_of(as_it_is(name, layout, guess)).bands
        (own,) = [one for one in after if (one.check, one.part) == (band.check, band.part)]
        return own.width

    return width(asked[0]) < median(map(width, others))


def _undecided(band):
    """How much a band leaves open: those that cross their limit first, and the widest of those."""
    low, high = band.figure.band
    if band.open:
        return True, band.width / max(abs(band.limit), abs(high), abs(low))
    away = min(abs(low - band.limit), abs(high - band.limit))
    return False, band.width / max(away, 1e-12)


@pytest.mark.slow
def test_what_to_measure_first_tells_most():
    """Of a few stripped files that leave enough out, in all."""
    assert [_told(number) for number in (2, 4, 5)] == [True] * 3


@pytest.mark.evening
def test_what_to_measure_first_tells_most_of_a_hundred():
    """The same of a hundred."""
    seen = [one for one in map(_told, range(150)) if one is not None][:100]
    assert sum(seen) >= RIGHT * len(seen)
