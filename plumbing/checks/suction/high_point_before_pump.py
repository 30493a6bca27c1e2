"""The line to the pump runs over a high point.

Why: Bubbles lodge under the bend until a pull or a push sends them to the pump in one slug.
Cure: Route the line level or steadily falling from the header to the pump.

Bad::

    lines:
      screen to pump: {route: [[755 mm, 0 mm, 60 mm]]}

Good::

    lines:
      screen to pump: {route: [[755 mm, 0 mm, -20 mm]]}
"""

from collections.abc import Iterator

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import subject
from plumbing.network.fuel_ways import lines_before_pump
from plumbing.network.lengths import route_points

SEVERITY = Severity.FAULT
SOURCE = "common practice; a bubble is locked by surface tension up to about 3.3 mm bore"
LIMIT = Limit("30 mm", "length")

_LOCKED = 3.3e-3  # bore up to which a bubble goes with the flow [m]


def find(case: Case, limit: float) -> Says:
    for feed in case.survey.feeds.values():
        if feed.path is None:
            continue
        heights: list[float] = []
        owner: list[str] = []
        for name, points in _routes(case, feed.engine):
            heights += points
            owner += [name] * len(points)
        number, rise = _highest(heights)
        if rise <= limit:
            continue
        line = case.layout.lines[owner[number]]
        if case.layout.tube_of(line).inside_diameter > _LOCKED:
            yield Found(
                line.name,
                f"{subject('line', line.name)} rises {units.show(rise, 'length')} to a high "
                "point and falls "
                f"again before the pump; {units.show(limit, 'length')} is the most.",
                Figure(rise, "length"),
                Figure(limit, "length"),
                field="route",
            )


def _routes(case: Case, engine: str) -> Iterator[tuple[str, list[float]]]:
    """Lines from the last tank to the pump with the heights along them, in flow order [m]."""
    way = case.survey.feeds[engine].path
    for line in lines_before_pump(case.survey, way) if way else ():
        heights = [point[2] for point in route_points(case.layout, line)]
        use = case.survey.lines[line.name]
        yield line.name, heights[::-1] if use.upstream == use.end else heights


def _highest(heights: list[float]) -> tuple[int, float]:
    """Where the highest hump lies and how far it stands over the lower ground on both sides."""
    humps = (
        (min(top - min(heights[: number + 1]), top - min(heights[number:])), number)
        for number, top in enumerate(heights)
    )
    rise, number = max(humps, default=(0.0, 0))
    return number, rise
