"""A check valve stands in the feed to the pump.

Why: It adds its cracking pressure to the suction, and dirt or gum makes it stick shut.
Cure: Leave it out; where it must stay, choose one that opens below 1 kPa.

Bad::

    valves:
      shut-off: {kind: check, cracking-pressure: 3 kPa}

Good::

    valves:
      shut-off: {kind: shut-off}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.sides import valves_on
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("1 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    for valve in valves_on(case, "suction"):
        if valve.kind != "check":
            continue
        opens = valve.cracking_pressure
        if opens is None:
            yield Lacking(f"valves.{valve.name}.cracking-pressure", valve.name)
        elif opens > limit:
            yield Found(
                valve.name,
                f"{subject('check valve', valve.name)} in the feed opens at "
                f"{units.show(opens, 'pressure')}, "
                f"all of it suction; {units.show(limit, 'pressure')} is bearable.",
                Figure(opens, "pressure"),
                Figure(limit, "pressure"),
                field="cracking_pressure",
            )
            continue
        yield Found(
            valve.name,
            f"{subject('check valve', valve.name)} in the feed can stick shut.",
            severity=Severity.ADVICE,
        )
