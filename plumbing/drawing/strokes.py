"""Lines as SVG paths: rounded corners, and a gap where an upright passes under a level one."""

from itertools import pairwise

from plumbing.drawing.routing import Point, Route, corners
from plumbing.drawing.sheet import num

ROUND = 1.4  # radius of corners [mm]
GAP = 1.1  # half the gap at a crossing [mm]


def track(routes: list[Route]) -> tuple[Point, ...]:
    """The whole way of a line through its label, from its first leg's tail to its last's head."""
    points = [point for one in routes for point in one.points]
    return tuple(corners(points)) if points else ()


def crossings(tracks: list[tuple[Point, ...]]) -> list[list[Point]]:
    """Crossings of each track's upright stretches with level stretches of the others."""
    level = [
        (place, a, b)
        for place, points in enumerate(tracks)
        for a, b in pairwise(points)
        if a[1] == b[1]
    ]
    found: list[list[Point]] = []
    for place, points in enumerate(tracks):
        own: list[Point] = []
        for a, b in pairwise(points):
            if a[0] != b[0]:
                continue
            low, high = min(a[1], b[1]), max(a[1], b[1])
            for other, c, d in level:
                if other == place or not low + GAP < c[1] < high - GAP:
                    continue
                if min(c[0], d[0]) < a[0] < max(c[0], d[0]):
                    own.append((a[0], c[1]))
        found.append(own)
    return found


def path_data(points: tuple[Point, ...], gaps: list[Point]) -> str:
    """Path of a track with its corners rounded and its gaps left open."""
    d = [f"M{num(points[0][0])} {num(points[0][1])}"]
    for place in range(1, len(points)):
        before, here = points[place - 1], points[place]
        last = place == len(points) - 1
        stop = here if last else _short(before, here)
        if before[0] == here[0]:
            d += _with_gaps(before, stop, gaps)
        d.append(f"L{num(stop[0])} {num(stop[1])}")
        if not last:
            onward = _short(points[place + 1], here)
            d.append(f"Q{num(here[0])} {num(here[1])} {num(onward[0])} {num(onward[1])}")
    return "".join(d)


def _short(start: Point, end: Point) -> Point:
    """Point short of the end by the corner's radius, or half the way on short stretches."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    far = abs(dx) + abs(dy)
    back = min(ROUND, far / 2) / far if far else 0.0
    return end[0] - dx * back, end[1] - dy * back


def _with_gaps(start: Point, stop: Point, gaps: list[Point]) -> list[str]:
    down = 1.0 if stop[1] > start[1] else -1.0
    low, high = min(start[1], stop[1]), max(start[1], stop[1])
    own = sorted((y * down, x) for x, y in gaps if x == start[0] and low < y < high)
    out = []
    for y, x in own:
        out.append(f"L{num(x)} {num(y * down - GAP * down)}M{num(x)} {num(y * down + GAP * down)}")
    return out
