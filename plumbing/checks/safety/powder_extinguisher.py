"""The extinguisher at hand is a powder one, or there is none.

Why: Powder drawn into an engine ends it, so it is used too late; without any, a small fire is a
large one.
Cure: Have a carbon dioxide or foam extinguisher within reach, and someone at it during the
start.

Bad::

    safety: {extinguisher: powder}

Good::

    safety: {extinguisher: co2}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "Canadian association's turbine guidelines, as posted by a club; national rules decide"


def find(case: Case, limit: float) -> Says:
    kind = case.layout.safety.extinguisher
    if kind is None:
        yield Lacking("safety.extinguisher", "safety")
    elif kind == "powder":
        yield Found("safety", "The extinguisher is a powder one.", field="extinguisher")
    elif kind == "none":
        yield Found("safety", "There is no extinguisher at hand.", field="extinguisher")
