"""Two outlets of one system stand at unequal pressure in flight.

Why: The difference pushes fuel from one tank into the other, or lets one alone feed the pump
while the other keeps its fuel.
Cure: Let both look the same way, side by side, or join the vents into one outlet.
Over: teed-pair

Bad::

    outlets:
      vent: {facing: flush, pressure-coefficient: 0.0}
      second vent: {at: [320 mm, 130 mm, -70 mm], bore: 4 mm, facing: forward,
        pressure-coefficient: 0.5}
    lines: {starboard vent: {to: second vent.tube}}

Good::

    outlets: {vent: {facing: flush, pressure-coefficient: 0.0}}
    lines: {starboard vent: {to: vent tee.run-b}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.results import got
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "dynamic pressure; the limit is common practice, the coefficients by facing too"
RESTS_ON = "parking"
LIMIT = Limit("0.5 kPa", "pressure")


def find(case: Case, limit: float) -> Says:
    if len(case.layout.outlets) < 2:
        return
    vents = got(case.parking).vents
    for name in vents.unknown:
        yield Lacking(f"outlets.{name}.facing", name)
    for pair in vents.uneven:
        over = pair.difference.value > limit
        if not over and not pair.difference.crosses(limit):
            continue
        high, low = pair.outlets
        what = (
            f"At {show(vents.airspeed, 'speed')} outlet {high} stands "
            f"{show(pair.difference.value, 'pressure', 2)} over {low}."
        )
        yield Found(
            high,
            what,
            pair.difference,
            Figure(limit, "pressure"),
            "facing",
            (low,),
            None if over else Severity.ADVICE,
        )
