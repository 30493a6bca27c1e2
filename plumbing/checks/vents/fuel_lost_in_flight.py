"""Fuel leaves through an outlet in flight.

Why: Fuel that runs out of a vent is endurance that nobody counts on losing, and it runs along
the hot fuselage.
Cure: One vent for each chain; the outlets of several at one pressure, in calm air.
Over: chained-pair

Bad::

    tanks: {starboard: {ports: {vent: {at: [350 mm, 75 mm, 85 mm], bore: 4.4 mm}}}}
    lines:
      second: {from: starboard.vent, to: second vent.tube, tube: polyurethane 8x5}
    outlets: {second vent: {at: [390 mm, 140 mm, -80 mm], bore: 5 mm, facing: aft}}

Good::

    outlets: {vent: {at: [390 mm, -140 mm, -80 mm], bore: 5 mm, facing: side}}
"""

from plumbing import units
from plumbing.checks.flown import of_flight
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.results import got

SEVERITY = Severity.FAULT
SOURCE = "computed flight; the limit is common practice: more than wets a vent line"
LIMIT = Limit("10 ml", "volume")


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    by_outlet: dict[str, dict[str, float]] = {}
    for (node, phase), volume in flight.books.lost.items():
        by_outlet.setdefault(node.partition(".")[0], {})[phase] = volume
    for outlet, lost in by_outlet.items():
        total, worst = sum(lost.values()), max(lost, key=lambda phase: lost[phase])
        if total > limit:
            yield Found(
                outlet,
                f"In {of_flight(flight)} {units.show(total, 'volume')} of fuel leave through "
                f"{outlet}, most of it in the phase {worst}.",
                Figure(total, "volume"),
                Figure(limit, "volume"),
            )
