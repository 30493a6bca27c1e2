"""Placards a helper needs are missing.

Why: A helper in a hurry reads the aircraft, not the manual: petrol goes in, or the wrong valve
turns.
Cure: Fit readable placards for fill, vent, shut-off, fuel and oil, largest filling flow,
extinguisher.

Bad::

    stage: built
    papers: {placards: [fill, vent]}

Good::

    papers:
      placards: ["fill: kerosene + 5 % oil, max 1.5 L/min", vent, fuel shut-off, extinguisher]
"""

from plumbing.checks.kit import Case, Found, Open, Says, Severity
from plumbing.model.statement import BUILT

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


WANTED = {
    "fill": ("fill",),
    "vent": ("vent", "overflow"),
    "shut-off": ("shut", "valve"),
    "fuel and oil": ("oil", "mix"),
    "largest filling flow": ("max", "rate", "flow", "/min"),
    "extinguisher": ("extinguisher", "fire"),
}


def find(case: Case, limit: float) -> Says:
    papers = case.layout.papers
    said = " / ".join(papers.placards).lower()
    asked = {name: words for name, words in WANTED.items() if name != "vent" or case.layout.outlets}
    missing = [name for name, words in asked.items() if not any(word in said for word in words)]
    if missing:
        what = f"There is no placard for: {', '.join(missing)}."
        yield Found("papers", what, field="placards", open=Open("papers.placards", BUILT))
