"""A tank in a chain has an open vent of its own in front of another vented tank.

Why: Air enters at the nearer vent, so that tank empties first and all fuel behind it is stranded.
Cure: Close it; only the far tank of a chain breathes, the others through the tank behind them.

Over: chained-pair

Bad::

    tanks:
      starboard: {ports: {spare: {at: [340 mm, 90 mm, 70 mm]}}}

Good::

    tanks:
      starboard: {ports: {spare: {at: [340 mm, 90 mm, 70 mm], capped: yes}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import listed, subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for vent in case.survey.second_vents:
        if case.layout.tanks[vent.tank].role == "header":
            continue  # `header-vented` reports it
        openings = (name.partition(".")[0] for name in vent.openings)
        others = dict.fromkeys((*openings, *vent.behind))
        yield Found(
            vent.tank,
            f"{subject('tank', vent.tank)} breathes by {listed(vent.openings)} and will empty "
            f"before {listed(vent.behind)}, whose fuel then stays.",
            field="ports",
            parts=tuple(name for name in others if name != vent.tank),
        )
