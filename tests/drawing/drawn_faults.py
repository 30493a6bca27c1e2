"""What a draughtsman would not accept, found by geometry from a placed schematic."""

from collections.abc import Iterator
from itertools import combinations, pairwise

from plumbing.drawing.boxes import Box
from plumbing.drawing.diagram import Placed
from plumbing.drawing.routing import Point

SLACK = 0.05


def faults(placed: Placed) -> list[str]:
    """Everything that overlaps, sticks out or passes through what it should not."""
    return [
        *_overlaps(placed),
        *_outside(placed),
        *_through(placed),
        *_shared(placed),
        *(f"line {one.leg.run.number} found no free way" for one in placed.routes if one.forced),
    ]


def _overlaps(placed: Placed) -> Iterator[str]:
    texts, symbols = placed.texts(), placed.symbols()
    for (owner, box), (other, room) in combinations(texts, 2):
        if box.meets(room, SLACK):
            yield f"text of {owner} on text of {other}"
    for owner, box in texts:
        for other, room in symbols:
            if box.meets(room, SLACK):
                yield f"text of {owner} on symbol of {other}"
    for (owner, box), (other, room) in combinations(symbols, 2):
        if box.meets(room, SLACK):
            yield f"symbol of {owner} on symbol of {other}"


def _outside(placed: Placed) -> Iterator[str]:
    field = placed.field()
    for owner, box in placed.texts() + placed.symbols():
        if not field.holds(box):
            yield f"{owner} outside the frame"
    for one, points in placed.lines():
        for x, y in points:
            if not field.holds(Box(x, y, x, y)):
                yield f"line {one.leg.run.number} outside the frame"


def _through(placed: Placed) -> Iterator[str]:
    names = {figure.key: figure.name for figure in placed.plan.figures.values()}
    boxes = placed.symbols()
    texts = placed.texts()
    for one, points in placed.lines():
        own = {names[one.leg.tail], names[one.leg.head]}
        for a, b in pairwise(points):
            stretch = _thin(a, b)
            for owner, box in boxes:
                if owner not in own and stretch.meets(box):
                    yield f"line {one.leg.run.number} through symbol of {owner}"
                if owner in own and box.width > 2.5 and stretch.meets(box, 0.3):
                    yield f"line {one.leg.run.number} across its own end {owner}"
            for owner, box in texts:
                if stretch.meets(box):
                    yield f"line {one.leg.run.number} through text of {owner}"


def _shared(placed: Placed) -> Iterator[str]:
    stretches = [
        (one.leg.run.number, a, b) for one, points in placed.lines() for a, b in pairwise(points)
    ]
    for (first, a, b), (second, c, d) in combinations(stretches, 2):
        if first == second:
            continue
        level, flat = abs(a[1] - b[1]) < 1e-6, abs(c[1] - d[1]) < 1e-6
        if level == flat and _thin(a, b).grown(0.05).meets(_thin(c, d).grown(0.05), 0.2):
            yield f"lines {first} and {second} share a stretch"


def _thin(a: Point, b: Point) -> Box:
    return Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])).grown(0.01)
