"""A line is cut with no length to spare.

Why: A tube taken off a barb must be cut back; without spare the joint is made again under pull.
Cure: Cut 30 to 50 mm more than the route needs and lay it in a loop.

Bad::

    lines:
      feed: {spare: 5 mm}

Good::

    lines:
      feed: {spare: 40 mm}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("30 mm", "length")


def find(case: Case, limit: float) -> Says:
    for name, line in case.layout.lines.items():
        if line.spare is None:
            yield Lacking(f"lines.{name}.spare", name)
        elif line.spare < limit:
            yield Found(
                name,
                f"{subject('line', name)} has {units.show(line.spare, 'length')} to spare; "
                f"{units.show(limit, 'length')} lets it be cut back once.",
                Figure(line.spare, "length"),
                Figure(limit, "length"),
                field="spare",
            )
