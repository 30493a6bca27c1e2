"""A verdict over all that a file leaves out: told, open, unchecked; and what to measure."""

from functools import cache

import pytest

from plumbing.checks.case import Case
from plumbing.checks.examined import examine
from plumbing.checks.needs import BETWEEN, PLACES, kind_of
from plumbing.checks.registry import checks
from plumbing.checks.run import Verdict
from plumbing.checks.weighed import weighed
from plumbing.findings import Figure
from plumbing.layout import read, starter
from plumbing.layout.starting import short_starter
from plumbing.studies.bands import Band

SUCTION = "inlet-suction-too-high"
HIGH = "pumps: {pump: {height: 200 mm}}\n"  # over the tanks: it must suck


@cache
def said(more="", limit="3 kPa"):
    """Verdict on the short single main with something more said, and a limit of its own."""
    text = f"{short_starter('single-main')}{more}limits: {{{SUCTION}: {limit}}}\n"
    return examine(read(text)).verdict


def asked(verdict):
    """The question about the suction."""
    (one,) = [one for one in verdict.questions if one.finding.check == SUCTION]
    return one


def test_a_limit_inside_the_band_is_a_question():
    """It has the usual value with its band, and says what would tell."""
    found = asked(said(HIGH, "4 kPa"))
    low, high = found.finding.measured.band
    assert low < 4e3 < high
    assert found.measure
    assert SUCTION not in said(HIGH, "4 kPa").clear


def test_below_the_whole_band_it_is_told():
    """A pump 0.2 m over the fuel sucks 1.5 kPa and more whatever else is true."""
    assert SUCTION in {one.check for one in said(HIGH, "0.5 kPa").findings}


def test_above_the_whole_band_it_is_clear():
    """And nothing is asked about it."""
    verdict = said(HIGH, "60 kPa")
    assert SUCTION in verdict.clear
    assert SUCTION not in {one.finding.check for one in verdict.questions}


@pytest.mark.outside("head of a column, rho g h with 0.8 kg/L", quantity="suction [Pa]")
def test_knowing_a_height_narrows_the_band_by_its_head():
    """From 80 mm down to 80 mm up, a column of fuel makes 0.8 x 9.8 x 160 mm = 1.26 kPa."""
    unknown, known = (asked(said(more, "4 kPa")).finding.measured for more in ("", HIGH))
    narrower = (unknown.high - unknown.low) - (known.high - known.low)
    assert narrower == pytest.approx(800.0 * 9.81 * 0.16, rel=0.05)


def test_what_needs_places_is_never_clear_without_them():
    """Nor is it told where no place is said: it is unchecked."""
    verdict = said(HIGH, "4 kPa")
    space = {check.name for check in checks() if kind_of(check) in (BETWEEN, PLACES)}
    spoken = {one.check for one in verdict.findings}
    spoken |= {one.finding.check for one in verdict.questions}
    assert not space & (set(verdict.clear) | spoken)
    assert space <= {one.check for one in verdict.unchecked}


def test_a_full_file_is_not_weighed():
    """Where nothing is left out the verdict is the one that was made."""
    verdict = Verdict((), (), ())
    assert weighed(Case(read(starter("single-main"))), verdict) is verdict


@pytest.mark.outside("differences, by hand", quantity="share of a band")
def test_shares_of_a_band_by_hand():
    """5 (2 to 9) with the limit 7: 5 to 8 alone is three sevenths, and known it leaves 6."""
    figure = Figure(5.0, "pressure", 2.0, 9.0)
    band = Band("x", "pump", figure, "c", 7.0, (False, True, False), ((5.0, 8.0), (4.0, 6.0)))
    assert band.open
    assert band.share(0) == pytest.approx(3.0 / 7.0)
    assert band.share(1) == pytest.approx(2.0 / 7.0)
    assert band.decided_by(0)  # 2 to 6
    assert not band.decided_by(1)  # 3 to 8
