"""Outlines of sections and formers: corners in order, not crossing."""

from collections.abc import Sequence

from plumbing.layout.gathering import Faults
from plumbing.model.tank import Corner, Prism
from plumbing.place import Place

MOST_CORNERS = 200


def sections_fit(prism: Prism, what: str, faults: Faults) -> bool:
    """Whether the sections of a prism can be joined; faults are noted where not."""
    sections = prism.sections
    if len(sections) < 2:
        faults.add(
            prism.place_of("sections"),
            f"{len(sections)} section in the prism of {what}",
            "two or more, from nose to tail",
        )
        return False
    count = len(sections[0].outline)
    fit = True
    for number, section in enumerate(sections, 1):
        place = section.place_of("outline")
        if len(section.outline) != count:
            found = f"section {number} of {what} with {len(section.outline)} corners"
            faults.add(place, found, f"{count}, as in the first section")
            fit = False
        if number > 1 and section.station <= sections[number - 2].station:
            faults.add(
                section.place_of("station"),
                f"section {number} of {what} not behind the one before it",
                "stations in order from nose to tail",
            )
            fit = False
        which = f"section {number} of {what}"
        fit = is_simple(section.outline, which, place, faults) and fit
    return fit


def is_simple(outline: Sequence[Corner], what: str, place: Place, faults: Faults) -> bool:
    """Whether corners make an outline that does not cross itself; a fault is noted where not."""
    count = len(outline)
    if not 3 <= count <= MOST_CORNERS:
        faults.add(place, f"{what} with {count} corners", f"3 to {MOST_CORNERS} corners")
        return False
    sides = [(outline[k], outline[(k + 1) % count]) for k in range(count)]
    if any(start == end for start, end in sides):
        faults.add(place, f"{what} with a corner twice", "every corner once")
        return False
    for first in range(count):
        last = count - 1 if first == 0 else count
        for second in range(first + 2, last):
            if _cross(*sides[first], *sides[second]):
                faults.add(place, f"{what} crosses itself", "corners in order round the outline")
                return False
    return True


def _cross(a: Corner, b: Corner, c: Corner, d: Corner) -> bool:
    """Whether two segments meet."""
    one, two = _side(a, b, c), _side(a, b, d)
    three, four = _side(c, d, a), _side(c, d, b)
    return one * two < 0.0 and three * four < 0.0


def _side(a: Corner, b: Corner, point: Corner) -> float:
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])
