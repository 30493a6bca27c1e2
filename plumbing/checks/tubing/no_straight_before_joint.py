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
from plumbing.checks.joints import ends
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "a valve maker's tube manual for one diameter; common practice for two on the suction side"
LIMIT = Limit("1", "ratio")  # straight length over outer diameter; twice that on the suction side


def find(case: Case, limit: float) -> Says:
    for end in ends(case.layout):
        if isinstance(end, Lacking):
            yield end
            continue
        if end.joint.straight is None:
            yield Lacking(f"joints.{end.joint.name}.straight", end.joint.name)
            continue
        on_suction = case.survey.lines[end.line.name].role == "suction"
        needed = limit * end.tube.outside_diameter * (2.0 if on_suction else 1.0)
        if end.joint.straight < needed:
            yield Found(
                end.line.name,
                f"Line {end.line.name} has {units.show(end.joint.straight, 'length')} of straight "
                f"tube before {end.port}; {units.show(needed, 'length')} are needed.",
                Figure(end.joint.straight, "length"),
                Figure(needed, "length"),
                parts=(end.joint.name,),
            )
