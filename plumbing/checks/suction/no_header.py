"""A pump draws straight from a main tank without an air trap.

Why: Each time the pickup is uncovered, in a turn or on the last fuel, the engine gets the air.
Cure: Put a header tank of 20 s of full flow before the pump, or a fine-pore pickup in the tank; if
a header is drawn already, give it `role: header`.

Bad::

    tanks:
      header: {role: main}

Good::

    tanks:
      header: {role: header}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for engine, feed in case.survey.feeds.items():
        if feed.path is None or feed.header or feed.path.pickup == "fine-pore":
            continue
        yield Found(
            feed.last_tank,
            f"{subject('engine', engine)} is fed straight from {feed.last_tank} with no "
            "header tank and no fine-pore pickup to keep air back.",
            field="role",
            parts=(engine,),
        )
