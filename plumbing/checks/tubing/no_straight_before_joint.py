"""A tube bends right at its joint.

Why: A bend at the joint pulls the tube sideways: it leaks air on one side and ages the seal.
Cure: Leave one outer diameter of straight tube before a joint, two on the suction side.

Bad::

    joints:
      barb-4: {straight: 3 mm}

Good::

    joints:
      barb-4: {straight: 15 mm}
"""

from plumbing import units
from plumbing.checks.joints import End, stated, unstated
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import on_lines, subject

SEVERITY = Severity.ADVICE
SOURCE = "a valve maker's tube manual for one diameter; common practice for two on the suction side"
LIMIT = Limit("1", "ratio")  # straight length over outer diameter; twice that on the suction side


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    ends_of: dict[str, list[End]] = {}
    for end in stated(case.layout):
        ends_of.setdefault(end.joint.name, []).append(end)
    for name, ends in ends_of.items():
        straight = ends[0].joint.straight
        if straight is None:
            yield Lacking(f"joints.{name}.straight", name)
            continue
        short = [end for end in ends if straight < limit * _wanted(case, end)]
        if not short:
            continue
        needed = limit * max(_wanted(case, end) for end in short)
        lines = tuple(dict.fromkeys(end.line.name for end in short))
        yield Found(
            name,
            f"{subject('joint', name)} has {units.show(straight, 'length')} of straight tube "
            f"before it; {units.show(needed, 'length')} are needed {on_lines(lines)}.",
            Figure(straight, "length"),
            Figure(needed, "length"),
            field="straight",
            parts=lines,
        )


def _wanted(case: Case, end: End) -> float:
    """Straight tube wanted before a joint for a limit of one diameter [m]."""
    on_suction = case.survey.lines[end.line.name].role == "suction"
    return end.tube.outside_diameter * (2.0 if on_suction else 1.0)
