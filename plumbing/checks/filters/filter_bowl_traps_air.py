"""A filter's bowl traps air.

Why: Air gathers in the top of the bowl and leaves it in one slug with the next manoeuvre.
Cure: Turn it so that its outlet is at the top, or use a filter with a tiny volume.

Bad::

    filters:
      fine filter: {volume: 20 ml, outlet-up: no}

Good::

    filters:
      fine filter: {volume: 20 ml, outlet-up: yes}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.sides import FEED, filters_on
from plumbing.checks.words import subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice; full-size owners' notes on filter bowls"
LIMIT = Limit("5 ml", "volume")


def find(case: Case, limit: float) -> Says:
    after = {behind.part for header in case.survey.headers for behind in header.after}
    for element in filters_on(case, *FEED):
        if element.name in after or element.outlet_up:
            continue  # those after a header are `air-trap-after-header`
        if element.volume is None:
            yield Lacking(f"filters.{element.name}.volume", element.name)
        elif element.volume <= limit:
            continue
        elif element.outlet_up is None:
            yield Lacking(f"filters.{element.name}.outlet-up", element.name)
        else:
            yield Found(
                element.name,
                f"{subject('filter', element.name)} holds {units.show(element.volume, 'volume')} "
                "and does not let air out upwards.",
                Figure(element.volume, "volume"),
                Figure(limit, "volume"),
                field="outlet_up",
            )
