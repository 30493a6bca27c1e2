"""A tube is bent tighter than it stands.

Why: It kinks, at once or on the first warm day, and a kink closes the line.
Cure: A larger radius, an elbow, or a spring over the bend; eight outer diameters on suction.

Bad::

    lines:
      feed: {bend-radius: 12 mm}

Good::

    lines:
      feed: {bend-radius: 48 mm}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import called, subject
from plumbing.model.line import Line, Tube

SEVERITY = Severity.FAULT
SOURCE = "the tube's own smallest radius, from its catalogue; on the suction side common practice"
LIMIT = Limit("8", "ratio")  # radius over outer diameter on the suction side


def find(case: Case, limit: float) -> Says:
    for name, line in case.layout.lines.items():
        if not line.route:
            continue  # no corners
        tube = case.layout.tube_of(line)
        if line.bend_radius is None:
            yield Lacking(f"lines.{name}.bend-radius", name)
        elif tube.bend_radius is None:
            yield Lacking(f"tubes.{tube.name}.bend-radius", name)
        else:
            on_suction = case.survey.lines[name].role == "suction"
            yield from _bent(line, line.bend_radius, tube, tube.bend_radius, limit * on_suction)


def _bent(line: Line, radius: float, tube: Tube, smallest: float, ratio: float) -> Says:
    wanted = max(smallest, ratio * tube.outside_diameter)
    kinks = radius < smallest
    if radius >= wanted:
        return
    allowed = smallest if kinks else wanted
    yield Found(
        line.name,
        f"{subject('line', line.name)} of {called('tube', tube.name)} is bent to "
        f"{units.show(radius, 'length')}; {units.show(allowed, 'length')} is the least "
        + ("it stands." if kinks else "on the suction side."),
        Figure(radius, "length"),
        Figure(allowed, "length"),
        field="bend_radius",
        severity=None if kinks else Severity.ADVICE,
    )
