"""Left in the sun, the fuel outgrows the air space under its vent.

Why: Warming from 15 to 40 degrees takes 2.4 % more room; where the vent port is under fuel
before that, the rest runs out onto the airframe.
Cure: Fill less, or take some back before the aircraft stands in the sun.

Bad::

    tanks: {main: {fill: 100 %}}
    parking: {on its wheels: {fuel: 100 %, hottest: 40 degC}}

Good::

    tanks: {main: {fill: 95 %}}
    parking: {on its wheels: {fuel: 100 %, hottest: 40 degC}}
    papers: {timer: 5.6 min}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.results import got
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "14 CFR 23.969 (2014 text), used as an analogy; growth by ASTM D1250"
RESTS_ON = "parking"
LIMIT = Limit("10 ml", "volume")


def find(case: Case, limit: float) -> Says:
    for parked in got(case.parking).attitudes.values():
        heat = parked.warmed
        if not parked.capped and heat.spilt > limit:
            what = (
                f"Left as {parked.name} at {show(heat.celsius_to, 'temperature')}, the fuel grows "
                f"by {show(heat.grown, 'volume', 2)} and {show(heat.spilt, 'volume', 2)} run out."
            )
            figures = Figure(heat.spilt, "volume"), Figure(limit, "volume")
            yield Found(parked.name, what, *figures)
