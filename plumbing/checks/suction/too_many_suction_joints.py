"""The suction side has too many joints.

Why: Each joint before the pump may let in air, and under suction nothing drips to show it.
Cure: Use longer tubes with fewer couplings, and leave out adaptors.

Bad::

    lines:
      feed: {fittings: [{kind: union, bore: 4 mm}, {kind: elbow-90, bore: 4 mm}]}

Good::

    tanks:
      main: {ports: {fill: {at: [400 mm, 0 mm, 60 mm], bore: 3.6 mm}}}
    lines:
      fill: {to: main.fill}
      header to tee: {to: shut-off.in}
      tee to shut-off: null
    tees: null
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("8", "count")


def find(case: Case, limit: float) -> Says:
    for engine in case.layout.engines:
        found = case.survey.joints(engine)
        if found is not None and found.count > limit:
            yield Found(
                engine,
                f"Between {found.tank} and {found.to} there are {found.count} tube ends; "
                f"{units.show(limit, 'count')} is a good number.",
                Figure(float(found.count), "count"),
                Figure(limit, "count"),
                parts=found.lines,
            )
