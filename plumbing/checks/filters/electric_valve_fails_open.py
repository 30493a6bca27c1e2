"""An electric fuel valve stays open without power.

Why: In a fire or a power failure fuel keeps flowing to the engine.
Cure: Fit a normally closed valve.

Bad::

    valves:
      fuel valve: {unpowered: open}

Good::

    valves:
      fuel valve: {unpowered: closed}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.sides import FEED, valves_on
from plumbing.checks.words import subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for valve in valves_on(case, *FEED):
        if valve.kind != "electric":
            continue
        if valve.unpowered is None:
            yield Lacking(f"valves.{valve.name}.unpowered", valve.name)
        elif valve.unpowered == "open":
            yield Found(
                valve.name,
                f"{subject('electric valve', valve.name)} stays open without power.",
                field="unpowered",
            )
