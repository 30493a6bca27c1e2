"""Something of the fuel system stands out of the airframe.

Why: What does not fit inside is found out at the bench, when tanks and formers are made.
Cure: Move it inwards. Lines may leave the airframe to an outlet, a fill port, a drain or an engine.

Bad::

    aircraft:
      airframe: {box: {at: [600 mm, 0 mm, 60 mm], size: [1400 mm, 400 mm, 130 mm]}}

Good::

    aircraft:
      airframe: {box: {at: [600 mm, 0 mm, 60 mm], size: [1400 mm, 400 mm, 500 mm]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.spacing import stands_out
from plumbing.network.airframe import airframe, indoors

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("0 mm", "length")


def find(case: Case, limit: float) -> Says:
    room = airframe(case.layout)
    if room is not None:
        for thing in indoors(case.layout, room, limit):
            yield from stands_out(case.layout, thing, room, limit)
