"""The line to the pump hangs through a low point.

Why: Water and dirt gather in the sag and come through in one gulp with the nose up.
Cure: Route the line level or steadily to the pump, or put the filter or a drain at the low point.

Bad::

    lines:
      screen to pump: {route: [[755 mm, 0 mm, -120 mm]]}

Good::

    lines:
      screen to pump: {route: [[755 mm, 0 mm, -20 mm]]}
"""

from collections.abc import Iterator

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import subject
from plumbing.geometry.humps import extrema
from plumbing.model.fields import Vector
from plumbing.network.fuel_ways import lines_before_pump
from plumbing.network.lengths import route_points

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("50 mm", "length")

_UP = (0.0, 0.0, 1.0)


def find(case: Case, limit: float) -> Says:
    for feed in case.survey.feeds.values():
        if feed.path is None:
            continue
        found = list(_points(case, feed.engine))
        if len(found) < 3:
            continue
        sags = extrema([point for _, point in found], _UP)
        depth = float(sags.deepest_sag[0])
        if depth <= limit:
            continue
        name = found[int((sags.sag[0] * sags.low[0]).argmax())][0]
        yield Found(
            name,
            f"{subject('line', name)} hangs {units.show(depth, 'length')} below both its sides "
            f"before {feed.pumps[0] if feed.pumps else feed.engine}; "
            f"{units.show(limit, 'length')} is the most.",
            Figure(depth, "length"),
            Figure(limit, "length"),
            field="route",
        )


def _points(case: Case, engine: str) -> Iterator[tuple[str, Vector]]:
    """Points from the last tank to the pump with the line they belong to, in flow order [m]."""
    way = case.survey.feeds[engine].path
    for line in lines_before_pump(case.survey, way) if way else ():
        points = route_points(case.layout, line)
        use = case.survey.lines[line.name]
        for point in points[::-1] if use.upstream == use.end else points:
            yield line.name, point
