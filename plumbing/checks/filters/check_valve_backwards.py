"""A check valve stands against the flow.

Why: It passes nothing the way the fuel or air must go: the engine starves or the tank folds.
Cure: Turn it round: it passes from `in` to `out`.

Bad::

    valves:
      check: {kind: check, at: [760 mm, 0 mm, -20 mm], bore: 4 mm}
    lines:
      screen to pump: {to: check.out}
      check to pump: {from: check.in, to: pump.in, tube: polyurethane 6x4}

Good::

    valves:
      check: {kind: check, at: [760 mm, 0 mm, -20 mm], bore: 4 mm}
    lines:
      screen to pump: {to: check.in}
      check to pump: {from: check.out, to: pump.in, tube: polyurethane 6x4}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import subject
from plumbing.network.roles import PartKind

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for part in case.survey.one_way:
        if part.kind is PartKind.VALVE and part.against:
            yield Found(
                part.part,
                f"{subject('check valve', part.part)} stands against the {part.role} flow.",
                field="kind",
            )
