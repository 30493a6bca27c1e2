"""A port of a tank is open and no line joins it.

Why: An open port is a second vent: in flight the tank behind it stops feeding, on the ground it
spills.
Cure: Cap the port, or draw the line that joins it.

Bad::

    tanks: {main: {ports: {spare: {at: [300 mm, 0 mm, 60 mm], bore: 4 mm}}}}

Good::

    tanks: {main: {ports: {spare: {at: [300 mm, 0 mm, 60 mm], bore: 4 mm, capped: yes}}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.network.roles import PartKind

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for opening in case.survey.openings:
        if opening.kind is PartKind.TANK and opening.is_open:
            what = f"Tank port {opening.name} is open and no line joins it."
            yield Found(opening.part, what, field="ports")
