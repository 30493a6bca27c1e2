"""A fill port has only one barrier against leaking.

Why: The fill line joins the suction side: a port that weeps lets air in for the whole flight.
Cure: Give the port a valve that closes and a cap over it.

Bad::

    fill-ports: {fill: {valve: yes, cap: no}}

Good::

    fill-ports: {fill: {valve: yes, cap: yes}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for port in case.layout.fill_ports.values():
        for barrier, said in (("valve", port.valve), ("cap", port.cap)):
            fault = Found(
                port.name, f"{subject('fill port', port.name)} has no {barrier}.", field=barrier
            )
            yield from declared(said, f"fill-ports.{port.name}.{barrier}", fault)
