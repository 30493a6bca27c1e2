"""A header tank has an open vent.

Why: The header then draws air instead of the fuel behind it, and runs dry with the mains full.
Cure: Cap it in flight, or lead its bleed to the top of the tank that feeds it.

Bad::

    tanks:
      header: {ports: {bleed: {at: [510 mm, 0 mm, 40 mm]}}}

Good::

    tanks:
      header: {ports: {bleed: {at: [510 mm, 0 mm, 40 mm], capped: yes}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import listed, subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice; a full-size owners' note says to vent a header into the tank above it"


def find(case: Case, limit: float) -> Says:
    for header in case.survey.headers:
        openings = dict.fromkeys(name.partition(".")[0] for name in header.openings)
        if openings:
            yield Found(
                header.tank,
                f"{subject('header', header.tank)} is open to the outside by "
                f"{listed(header.openings)}.",
                field="ports",
                parts=tuple(name for name in openings if name != header.tank),
            )
