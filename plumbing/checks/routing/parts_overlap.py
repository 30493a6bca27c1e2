"""Two things are drawn in one place.

Why: One of them cannot be fitted where the drawing has it, and is then put somewhere by eye.
Cure: Move one of them; if one goes through the other on purpose, say so with `inside`.

Bad::

    pumps: {pump: {at: [300 mm, 0 mm, 10 mm]}}

Good::

    pumps: {pump: {inside: []}}
"""

import math
from collections.abc import Iterator
from itertools import combinations

import numpy as np

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.spacing import too_near
from plumbing.geometry.bodies import comes_back, gap, tube
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.tank import Tank
from plumbing.network.former_holes import in_passage, piercings
from plumbing.network.space import (
    Thing,
    formers,
    free_of,
    joined,
    lines,
    parts,
    place_words,
    tanks,
    zones,
)

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("0 mm", "length")


def find(case: Case, limit: float) -> Says:
    """Parts with all else; tanks with what is solid; lines with parts, tanks and each other."""
    layout = case.layout
    bodies, vessels = list(parts(layout)), list(tanks(layout))
    looms = [thing for _, thing in zones(layout, "wiring")]
    solid = [thing for _, thing in zones(layout, "structure")]
    rest = [*solid, *(thing for _, thing in zones(layout, "battery", "electronics"))]
    hot = [thing for _, thing in zones(layout, "hot", "exhaust", "disc")]
    for one, other in combinations(bodies, 2):
        yield from too_near(layout, other, [one], limit)
    for one in bodies:
        engine = one.kind == "engine"  # it stands in its own hot zone
        yield from too_near(layout, one, (*vessels, *looms, *rest, *(() if engine else hot)), limit)
        yield from too_near(layout, one, _plates(layout, one), limit)
    for tank in vessels:
        yield from too_near(layout, tank, (*looms, *solid), limit)
    yield from _lines(layout, [*bodies, *solid], vessels, limit)


def _plates(layout: Layout, one: Thing) -> Iterator[Thing]:
    """Formers that a part may not be in; of one of an assumed size, those its middle is in.

    What stands in a passage goes through there.
    """
    part = layout.part(one.name)
    assert not isinstance(part, Tank)
    at = np.array(part.at)
    for thing in formers(layout):
        former = layout.formers[thing.name]
        stated = getattr(part, "body", None) is not None
        if (stated or gap(tube(at, 0.0), thing.body, 0.0)) and not in_passage(former, at):
            yield thing


def _itself(layout: Layout, line: Line, whole: Thing, limit: float) -> Says:
    """A line that goes through itself farther along it than a hairpin is long."""
    at = comes_back(whole.body, math.pi * layout.tube_of(line).outside_diameter)
    if at is not None:
        x, y, z = at.tolist()
        what = f"Line {line.name} goes through itself at {place_words(layout, (x, y, z))}."
        yield Found(line.name, what, Figure(0.0, "length"), Figure(limit, "length"), "route")


def _lines(layout: Layout, bodies: list[Thing], vessels: list[Thing], limit: float) -> Says:
    """A line may lie in the parts it is joined to, and leave its tank by the port only."""
    runs, plates = list(lines(layout)), list(formers(layout))
    for line, whole in runs:
        ends = set(joined(line))
        others = [one for one in (*bodies, *vessels) if one.name not in ends]
        yield from too_near(layout, whole, others, limit)
        beside = [one for one in plates if not piercings(layout, line, layout.formers[one.name])]
        yield from too_near(layout, whole, beside, limit)
        yield from _itself(layout, line, whole, limit)
        own = [one for one in vessels if one.name in ends]
        yield from too_near(layout, free_of(layout, line, ends), own, limit)
    for (line, first), (other, second) in combinations(runs, 2):
        shared = set(joined(line)) & set(joined(other))
        if shared:
            first, second = free_of(layout, line, shared), free_of(layout, other, shared)
        yield from too_near(layout, second, [first], limit)
