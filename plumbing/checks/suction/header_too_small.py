"""The header tank holds too few seconds of full flow.

Why: Air taken in while a pickup is dry is flow times time; a small header passes it to the pump.
Cure: A larger header tank: 15 s of full flow at least, better 20 s.

Bad::

    tanks:
      header:
        shape: {cylinder: {diameter: 30 mm}}
        ports: {out: {at: [535 mm, 0 mm, -12 mm]}}

Good::

    tanks:
      header:
        shape: {cylinder: {diameter: 45 mm}}
        ports: {out: {at: [542 mm, 0 mm, -12 mm]}}
"""

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import called, subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
LIMIT = Limit("15 s", "time")

_BETTER = 4.0 / 3.0  # of the limit: 20 s, missed also by an engine that burns less than stated


def find(case: Case, limit: float) -> Says:
    for peak in case.peak.engines.values():
        held = peak.header_seconds
        surely = held * (1.0 + case.layout.tolerances.flow) < _BETTER * limit
        if not peak.header or (held >= limit and not surely):
            continue
        allowed = limit if held < limit else _BETTER * limit
        yield Found(
            peak.header,
            f"{subject('header', peak.header)} holds {units.show(held, 'time')} of full flow of "
            f"{called('engine', peak.engine)}; "
            + (
                f"{units.show(limit, 'time')} are needed."
                if held < limit
                else f"{units.show(allowed, 'time')} are better."
            ),
            Figure(held, "time"),
            Figure(allowed, "time"),
            field="shape",
            severity=None if held < limit else Severity.ADVICE,
        )
