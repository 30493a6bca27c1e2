"""Tanks that feed through one tee have vents of their own.

Why: A slip pressurises one outlet, and the fuel of one tank is pushed over into the other or
left behind.
Cure: Join the air spaces above the tanks and lead one outlet out.
Over: teed-pair

Bad::

    outlets: {second vent: {at: [320 mm, 130 mm, -70 mm], bore: 4 mm}}
    lines: {starboard vent: {to: second vent.tube}}

Good::

    lines: {starboard vent: {to: vent tee.run-b}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import listed

SEVERITY = Severity.UNSAFE
SOURCE = "14 CFR 25.975 on fuel tank vents, used as an analogy"


def find(case: Case, limit: float) -> Says:
    for teed in case.survey.teed:
        if not teed.vents_joined:
            what = f"Tanks {listed(teed.tanks)} feed together and have separate vents."
            yield Found(teed.tanks[0], what, parts=(*teed.tanks[1:], *teed.tees))
