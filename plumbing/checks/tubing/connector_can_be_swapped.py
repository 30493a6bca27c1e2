"""Two plug connectors fit each other's halves.

Why: A feed plugged into a vent's half goes unnoticed until the engine draws air.
Cure: Use another size, sex or key for each connector of the same place.

Bad::

    connectors:
      wing-feed: {at: [0.5 m, 0.1 m, 0 m], bore: 4 mm, keyed: no}
      wing-vent: {at: [0.5 m, 0.12 m, 0 m], bore: 4 mm, keyed: no}

Good::

    connectors:
      wing-feed: {at: [0.5 m, 0.1 m, 0 m], bore: 4 mm, keyed: yes}
      wing-vent: {at: [0.5 m, 0.12 m, 0 m], bore: 4 mm, keyed: yes}
"""

from itertools import combinations

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"

_SAME = 0.1e-3  # connectors are of one size when their bores differ by less [m]


def find(case: Case, limit: float) -> Says:
    for one, other in combinations(case.layout.connectors.values(), 2):
        if abs(one.bore - other.bore) > _SAME or one.keyed or other.keyed:
            continue
        unsaid = [each.name for each in (one, other) if each.keyed is None]
        yield from (Lacking(f"connectors.{name}.keyed", name) for name in unsaid)
        if not unsaid:
            yield Found(
                one.name,
                f"Connectors {one.name} and {other.name} are of one size and neither is keyed.",
                field="keyed",
                parts=(other.name,),
            )
