"""A valve is narrower than the tube it stands in.

Why: The valve's bore, not the tube's, then sets the loss of that run.
Cure: Fit a valve with at least the tube's bore.

Bad::

    valves:
      shut-off: {bore: 2.5 mm}

Good::

    valves:
      shut-off: {bore: 4 mm}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.sides import FEED, tube_bores_at, valves_on
from plumbing.checks.words import subject

SEVERITY = Severity.ADVICE
SOURCE = "common practice"
LIMIT = Limit("100 %", "share")


def find(case: Case, limit: float) -> Says:
    for valve in valves_on(case, *FEED):
        tube = min(tube_bores_at(case, valve.name))
        share = valve.bore / tube
        if share < limit - 1e-9:
            yield Found(
                valve.name,
                f"{subject('valve', valve.name)} has {units.show(valve.bore, 'length')} bore in "
                f"a line of {units.show(tube, 'length')}.",
                Figure(share, "share"),
                Figure(limit, "share"),
                field="bore",
            )
