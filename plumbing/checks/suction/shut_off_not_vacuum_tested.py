"""A shut-off valve on the suction side was not tested under vacuum.

Why: A stem seal that holds fuel in may still let air in, and the air goes to the pump.
Cure: Test it under vacuum, or move it to the pressure side.

Bad::

    valves:
      shut-off: {vacuum-rated: no}

Good::

    valves:
      shut-off: {vacuum-rated: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.sides import valves_on
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for valve in valves_on(case, "suction"):
        if valve.kind == "check":
            continue
        fault = Found(
            valve.name,
            f"{subject('valve', valve.name)} on the suction side was not tested under vacuum.",
            field="vacuum_rated",
        )
        yield from declared(valve.vacuum_rated, f"valves.{valve.name}.vacuum-rated", fault)
