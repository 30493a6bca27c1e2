"""The file accepts a finding that is not found.

Why: An acceptance left behind from an older design hides the next fault of that kind.
Cure: Take it out, or name the check and the part it is meant for.

Bad::

    accepted:
      slow: {check: cold-suction-too-high, part: pump, reason: flown in summer only,
        by: the builder, on: 2026-05-01}

Good::

    limits: {suction-flow-too-fast: 0.05 m/s}
    accepted:
      fast: {check: suction-flow-too-fast, reason: measured on the bench, by: the builder,
        on: 2026-05-01}
"""

from plumbing.checks.accepted import answers_for
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.model.ground import Accepted

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for name, one in case.layout.accepted.items():
        if not _found(case, one):
            where = f" at {one.part}" if one.part else ""
            what = f"Nothing is found by {one.check}{where}, yet it is accepted as {name}."
            yield Found(name, what, field="check")


def _found(case: Case, one: Accepted) -> bool:
    """Whether the check says of that part what is accepted; its results are computed already."""
    from plumbing.checks.registry import checks
    from plumbing.checks.run import asked, limits_in_force

    check = next(check for check in checks() if check.name == one.check)
    said = asked(check, case, limits_in_force(case.layout)[check.name])
    return any(answers_for(one, check.name, x.part) for x in said if isinstance(x, Found))
