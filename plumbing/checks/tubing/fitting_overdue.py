"""A fitting with a rubber seal has outlived its seal.

Why: Seals harden and plastic bodies swell in kerosene; old push-in fittings draw air.
Cure: Renew push-in fittings and plug connectors every two years, on the suction side yearly.

Bad::

    joints:
      barb-4: {kind: push-in, outside-diameter: 6 mm, age: 3 years}

Good::

    joints:
      barb-4: {kind: push-in, outside-diameter: 6 mm, age: 1 year}
"""

from plumbing import units
from plumbing.checks.joints import kinds_used, unstated
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.words import on_lines, subject

SEVERITY = Severity.FAULT
SOURCE = "builders' reports of aged push-in fittings; common practice"
LIMIT = Limit("2 years", "age")


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for joint, lines in kinds_used(case.layout):
        if joint.kind == "push-in":
            words = f"{subject('joint', joint.name)} {on_lines(lines)}"
            yield from _aged(joint.name, f"joints.{joint.name}.age", words, joint.age, limit)
    for name, connector in case.layout.connectors.items():
        if connector.sealed_by in (None, "o-ring"):
            path = f"connectors.{name}.age"
            yield from _aged(name, path, subject("connector", name), connector.age, limit)


def _aged(part: str, path: str, words: str, age: float | None, limit: float) -> Says:
    if age is None:
        yield Lacking(path, part)
    elif age > limit:
        yield Found(
            part,
            f"{words} is {units.show(age, 'age')} old; {units.show(limit, 'age')} is its life.",
            Figure(age, "age"),
            Figure(limit, "age"),
            field="age",
        )
