"""The timer rings after the reserve has been touched.

Why: A timer set from the tank's volume forgets what the pickups leave and what taxiing burns.
Cure: Set the timer to the computed time, and correct it by the fuel measured after each flight.

Bad::

    papers: {timer: 20 min}

Good::

    papers: {timer: 1 min}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.results import got
from plumbing.units import clock

SEVERITY = Severity.FAULT
SOURCE = "common practice: a circuit and approach before the reserve"


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    timer = case.layout.papers.timer
    if timer is None:
        yield Lacking("papers.timer")
    elif timer > flight.to_reserve:
        yield Found(
            "papers",
            f"The timer is set to {clock(timer)}, but only the reserve is left after "
            f"{clock(flight.to_reserve)} in the air; {clock(flight.timer)} leaves a circuit.",
            Figure(timer, "time"),
            Figure(flight.to_reserve, "time"),
            field="timer",
        )
