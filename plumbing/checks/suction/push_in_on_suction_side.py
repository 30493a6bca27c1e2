"""A push-in fitting stands on the suction side.

Why: Side load, a worn O-ring or swollen plastic lets air in where no fuel ever drips out.
Cure: Use a barb with a wire lock; a push-in fitting needs hard, straight tube and yearly renewal.

Bad::

    joints:
      barb-4: {kind: push-in}

Good::

    joints:
      barb-4: {kind: barb}
"""

from plumbing.checks.joints import kinds_used, unstated
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.sides import lines_of
from plumbing.checks.words import on_lines, subject

SEVERITY = Severity.ADVICE
SOURCE = "builders' tutorials advise against it; much flying equipment uses it: sources disagree"


def find(case: Case, limit: float) -> Says:
    suction = lines_of(case, "suction")
    yield from unstated(case.layout, suction)
    for joint, lines in kinds_used(case.layout, suction):
        if joint.kind == "push-in":
            yield Found(
                joint.name,
                f"{subject('push-in joint', joint.name)} stands on the suction side, "
                f"{on_lines(lines)}.",
                field="kind",
                parts=lines,
            )
