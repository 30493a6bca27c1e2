"""A clean filter takes too much pressure at full flow.

Why: A filter that is tight when clean leaves nothing for the dirt it is there to catch.
Cure: Fit a larger element; on the suction side also a coarser one.

Bad::

    filters:
      screen: {clean-drop: 5 kPa, dirty-drop: 9 kPa}

Good::

    filters:
      screen: {clean-drop: 0.2 kPa, dirty-drop: 0.6 kPa}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.sides import side_of
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "common practice: 2 kPa on the suction side, 20 kPa on the pressure side"
LIMIT = Limit("2 kPa", "pressure")  # on the suction side; ten times that on the pressure side


def find(case: Case, limit: float) -> Says:
    drops: dict[str, float] = {}
    for engine in case.peak.engines.values():
        for name, (clean, _) in engine.filter_drops.items():
            drops[name] = max(clean, drops.get(name, 0.0))
    for name, clean in drops.items():
        if case.layout.filters[name].clean_drop is None:
            yield Lacking(f"filters.{name}.clean-drop", name)
            continue
        side = side_of(case, name)
        allowed = limit if side == "suction" else 10.0 * limit
        if clean > allowed:
            yield Found(
                name,
                f"{subject('filter', name)} on the {side} side takes "
                f"{units.show(clean, 'pressure')} clean at full flow on a usual day; "
                f"{units.show(allowed, 'pressure')} are allowed.",
                Figure(clean, "pressure"),
                Figure(allowed, "pressure"),
                field="clean_drop",
            )
