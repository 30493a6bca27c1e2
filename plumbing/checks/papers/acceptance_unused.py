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

from collections.abc import Sequence

from plumbing.checks.accepted import answers_for
from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.model.ground import Accepted
from plumbing.results import NotComputed, known

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for name, one in case.layout.accepted.items():
        said = _said(case, one)
        if any(answers_for(one, one.check, x.part) for x in said if isinstance(x, Found)):
            continue
        missing = [x for x in said if not isinstance(x, Found)]
        if missing:  # it cannot be told whether there is something to accept
            yield from (x for x in missing if known(x) and isinstance(x, Lacking))
            continue
        where = f" at {one.part}" if one.part else ""
        what = f"Nothing is found by {one.check}{where}, yet it is accepted as {name}."
        yield Found(name, what, field="check")


def _said(case: Case, one: Accepted) -> Sequence[Found | Lacking | NotComputed]:
    """All that the check says of what is accepted; its results are computed already."""
    from plumbing.checks.limits import limits_in_force
    from plumbing.checks.registry import checks
    from plumbing.checks.run import asked

    check = next(check for check in checks() if check.name == one.check)
    return asked(check, case, limits_in_force(case.layout)[check.name])
