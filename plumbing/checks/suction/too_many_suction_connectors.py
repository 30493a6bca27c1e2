"""The suction side has too many connectors.

Why: Each connector before the pump may let in air, and under suction nothing drips to show it.
Cure: Use longer tubes with fewer couplings, and leave out adaptors.

Bad::

    lines:
      feed: {fittings: [{kind: union, bore: 4 mm}, {kind: union, bore: 4 mm}]}
      header to tee: {fittings: [{kind: union, bore: 4 mm}, {kind: elbow-90, bore: 4 mm}]}
      tee to shut-off: {fittings: [{kind: union, bore: 4 mm}, {kind: elbow-90, bore: 4 mm}]}

Good::

    lines:
      feed: {fittings: [{kind: union, bore: 4 mm}]}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity

SEVERITY = Severity.ADVICE
SOURCE = "common practice: a tee, filter, valve or coupling counts once"
LIMIT = Limit("8", "count")


def find(case: Case, limit: float) -> Says:
    for engine in case.layout.engines:
        found = case.survey.connectors(engine)
        if found is not None and found.count > limit:
            inside = f", {found.fittings} of them inside lines" if found.fittings else ""
            yield Found(
                engine,
                f"Between {found.tank} and {found.to} fuel passes {found.count} connectors{inside}"
                f"; {units.show(limit, 'count')} is a good number.",
                Figure(float(found.count), "count"),
                Figure(limit, "count"),
                parts=found.parts,
            )
