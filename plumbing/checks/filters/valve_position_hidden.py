"""A shut-off valve does not show whether it is open.

Why: An engine is started, or the model flown, on a closed valve and the fuel left in the line.
Cure: Fit a lever, pointer or colour that shows the position, and name it on the card.

Bad::

    valves:
      shut-off: {position-visible: no}

Good::

    valves:
      shut-off: {position-visible: yes}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for name, valve in case.layout.valves.items():
        if valve.kind != "shut-off":
            continue
        fault = Found(
            name,
            f"Nothing shows whether {called('valve', name)} is open.",
            field="position_visible",
        )
        yield from declared(valve.position_visible, f"valves.{name}.position-visible", fault)
