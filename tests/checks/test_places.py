"""Findings stand where the user can mend them, also where two things have one name."""

import pytest
from overlay import overlaid

from plumbing.checks.kit import Case, Found, Lacking
from plumbing.checks.registry import checks
from plumbing.checks.run import judge, place_of

NAMED = {check.name: check for check in checks()}


@pytest.fixture(scope="module")
def layout():
    """A starter in which a line and an outlet are both called vent."""
    return overlaid("single-main", "notes: as it is")


def test_field_tells_the_line_from_the_outlet(layout):
    """The one that has the field is meant."""
    line, outlet = layout.lines["vent"], layout.outlets["vent"]
    assert place_of(layout, "vent", "route") == line.place_of("route")
    assert place_of(layout, "vent", "facing") == outlet.place_of("facing")


def test_section_tells_them_apart_where_data_lack(layout):
    """What is lacking is named with its section, and stands there."""
    check = NAMED["no-loop-in-vent"]
    assert place_of(layout, "vent", "", "lines") == layout.lines["vent"].place
    case = Case(overlaid("single-main", "lines: {vent: {route: null}}"))
    (unchecked,) = judge(case, [check]).unchecked
    assert unchecked.missing == "lines.vent.route"
    assert unchecked.place == case.layout.lines["vent"].place


def test_section_of_the_file_is_a_part_too(layout):
    """A finding about the papers stands at the line that says so."""
    assert place_of(layout, "papers", "renewal") == layout.papers.place_of("renewal")
    assert place_of(layout, "papers", "") == layout.place_of("papers")


def test_nothing_a_check_says_of_a_starter_lacks_a_part(layout):
    """Whatever is said names something that stands in the file."""
    case = Case(overlaid("single-main", "papers: null\nsafety: null\nzones: null"))
    for check in checks():
        for said in check.find(case, check.limit.value if check.limit else 0.0):
            if isinstance(said, Found | Lacking) and said.part:
                assert place_of(case.layout, said.part, "").line > 0
