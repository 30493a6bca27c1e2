"""Two engines hang on one part other than a main tank.

Why: When that header, pump, filter or valve fails, both engines stop together.
Cure: Give each engine its own header, pump, filter and valve; a shared main tank is usual.

Over: twin-engine

Bad::

    notes: two engines on one pump

Good::

    notes: the starter has two half systems
"""

from plumbing.checks.joints import listed
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 23.953 (one failure, other than a tank, stops one engine), used as an analogy"


def find(case: Case, limit: float) -> Says:
    for shared in case.survey.shared:
        tank = case.layout.tanks.get(shared.part)
        if tank is not None and tank.role == "main":
            continue
        yield Found(
            shared.part,
            f"Engines {listed(shared.engines)} stop together when {shared.part} fails.",
            parts=shared.engines,
        )
