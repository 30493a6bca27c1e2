"""The largest filling flow is not on the label of the fill port.

Why: A strong pump bursts a tank once fuel stands in the vent; the helper cannot know the limit.
Cure: Write the largest flow in L/min beside the fill port.

Bad::

    fill-ports: {fill: {rate-on-label: no}}

Good::

    fill-ports: {fill: {rate-on-label: yes}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for port in case.layout.fill_ports.values():
        what = f"The label of {called('fill port', port.name)} names no largest flow."
        fault = Found(port.name, what, field="rate_on_label")
        yield from declared(port.rate_on_label, f"fill-ports.{port.name}.rate-on-label", fault)
