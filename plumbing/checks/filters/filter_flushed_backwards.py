"""Fuel passes a filter or a fine-pore pickup from the clean side.

Why: Dirt caught outside is washed back into the tank, or a bag is folded over its own outlet.
Cure: Fill on the other side of it, or turn it round.

Bad::

    tanks:
      main: {ports: {feed: {pickup: {kind: fine-pore}}}}

Good::

    tanks:
      main: {ports: {feed: {pickup: {kind: clunk}}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called, subject
from plumbing.network.roles import PartKind

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for part in case.survey.one_way:
        if part.kind is PartKind.FILTER and part.against:
            yield Found(
                part.part,
                f"{subject('filter', part.part)} stands against the flow.",
                severity=Severity.FAULT,
            )
    for fill in case.survey.fills.values():
        for name in fill.reversed_filters:
            if case.layout.filters[name].one_way is not False:
                yield Found(
                    name,
                    f"Filling at {fill.port} pushes fuel through {called('filter', name)} from "
                    "its clean side.",
                    parts=(fill.port,),
                )
        for reference in fill.reversed_pickups:
            tank = reference.partition(".")[0]
            yield Found(
                tank,
                f"Filling at {fill.port} pushes fuel through the fine-pore pickup at {reference} "
                "from inside.",
                field="ports",
                parts=(fill.port,),
            )
