"""A tube that ages has been in use too long.

Why: Urethane and rubber harden, crack and shrink on their barbs; old tube leaks air first.
Cure: Renew soft fuel tube every two years, sooner if it is stiff or yellow.

Bad::

    lines:
      feed: {age: 3 years}

Good::

    lines:
      feed: {age: 6 months}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.materials import ages
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "common practice; the file's own renewal interval where that is shorter"
LIMIT = Limit("2 years", "age")


def find(case: Case, limit: float) -> Says:
    own = case.layout.papers.renewal
    allowed = limit if own is None else min(limit, own)
    for name, line in case.layout.lines.items():
        tube = case.layout.tube_of(line)
        renewed = ages(tube.material)
        if renewed is None:
            yield Lacking(f"tubes.{tube.name}.material ({tube.material})", name)
        elif renewed and line.age is None:
            yield Lacking(f"lines.{name}.age", name)
        elif renewed and line.age is not None and line.age > allowed:
            yield Found(
                name,
                f"{subject('line', name)} of {tube.material} is {units.show(line.age, 'age')} old; "
                f"{units.show(allowed, 'age')} is its life.",
                Figure(line.age, "age"),
                Figure(allowed, "age"),
                field="age",
            )
