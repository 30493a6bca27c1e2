"""Fuel passes a filter or a fine-pore pickup from the clean side.

Why: Dirt that comes with the fuel is pushed into it and stays on its clean side, and the bag of a
header is folded over its own outlet.
Cure: Fill on the other side of it, or through a filter that is finer than a main tank's pickup.
Over: teed-pair

Bad::

    filling: {filter-pore: 50 um}

Good::

    filling: {filter-pore: 5 um}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called, subject
from plumbing.model.layout import Layout, split_port
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
                advice="Take it out and turn it round, its arrow along the flow.",
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
            tank = split_port(reference)[0]
            if _comes_clean(case.layout, reference):
                continue
            yield Found(
                tank,
                f"Filling at {fill.port} pushes fuel through the fine-pore pickup at {reference} "
                "from inside.",
                field="ports",
                parts=(fill.port,),
            )


def _comes_clean(layout: Layout, reference: str) -> bool:
    """Whether what is filled holds no dirt that the pickup of a main tank would catch."""
    name, port = split_port(reference)
    pickup, filtered = layout.tanks[name].ports[port].pickup, layout.filling.filter_pore
    if layout.tanks[name].role == "header" or filtered is None:
        return False
    return pickup is not None and pickup.pore is not None and filtered <= pickup.pore
