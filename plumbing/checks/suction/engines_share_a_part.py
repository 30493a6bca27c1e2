"""Two engines hang on one part other than a main tank.

Why: When that header, pump, filter or valve fails, both engines stop together.
Cure: Give each engine its own header, pump, filter and valve; a shared main tank is usual.

Over: twin-engine

Bad::

    tees:
      shared tee: {at: [800 mm, 0 mm, -40 mm], bore: 4.4 mm}
    lines:
      port shut-off to screen: {to: shared tee.run-a}
      shared to port screen: {from: shared tee.run-b, to: port screen.in, tube: polyurethane 8x5}
      starboard shut-off to screen: {from: shared tee.branch}

Good::

    lines:
      port shut-off to screen: {from: port shut-off.out, to: port screen.in}
      starboard shut-off to screen: {from: starboard shut-off.out, to: starboard screen.in}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import listed

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 23.953 (one failure, other than a tank, stops one engine), used as an analogy"


def find(case: Case, limit: float) -> Says:
    together: dict[tuple[str, ...], list[str]] = {}
    for shared in case.survey.shared:
        tank = case.layout.tanks.get(shared.part)
        if tank is None or tank.role == "header":
            together.setdefault(shared.engines, []).append(shared.part)
    for engines, parts in together.items():
        yield Found(
            parts[0],
            f"Engines {listed(engines)} stop together when one of these fails: {listed(parts)}.",
            parts=(*parts[1:], *engines),
        )
