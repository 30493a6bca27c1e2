"""A line runs under a tank strap.

Why: The strap that holds the tank crushes the tube at the first hard landing.
Cure: Notch the tank saddle for the tube, or lead it round the strap.

Bad::

    lines: {feed: {under-strap: yes}}

Good::

    lines: {feed: {under-strap: no}}
"""

from plumbing.checks.declared import denied
from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    strapped = any(tank.fixing.straps for tank in layout.tanks.values())
    for line in layout.lines.values():
        if line.under_strap is None and not strapped:
            continue
        fault = Found(line.name, f"Line {line.name} runs under a tank strap.", field="under_strap")
        yield from denied(line.under_strap, f"lines.{line.name}.under-strap", fault)
