"""A line's legs are too short for its bends.

Why: The tube then bends tighter than drawn, and kinks at the shortest leg.
Cure: Move the corners apart, take a tube that bends tighter, or put an elbow there.

Bad::

    lines: {feed: {bend-radius: 300 mm}}

Good::

    lines: {feed: {bend-radius: 48 mm}}
"""

import numpy as np

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.checks.words import subject
from plumbing.geometry.route import filleted, room
from plumbing.network.lengths import route_points
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "geometry of the route"

_SLACK = 1e-4  # corners are written to the millimetre [m]


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for line in layout.lines.values():
        if not line.route:
            continue
        radius = line.bend_radius or layout.tube_of(line).bend_radius
        if radius is None:
            yield Lacking(f"lines.{line.name}.bend-radius", line.name)
            continue
        points = route_points(layout, line)
        if room(points, radius).min() >= -_SLACK:
            continue
        curve = filleted(points, radius)
        fits = float(np.min(curve.radii[curve.angles > 0.0], initial=radius))
        yield Found(
            line.name,
            f"{subject('line', line.name)} has legs that leave room for a bend of "
            f"{show(fits, 'length')} only; {show(radius, 'length')} are drawn.",
            Figure(fits, "length"),
            Figure(radius, "length"),
            field="route",
        )
