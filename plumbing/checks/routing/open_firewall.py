"""A passage through the firewall is not fire-tight.

Why: The wall that keeps a fire in the engine bay is as good as its worst hole.
Cure: Lead the line through in metal or fire sleeve, and close the hole round it.

Bad::

    formers: {F4: {passages: {pressure: {fire-tight: no}}}}

Good::

    formers: {F4: {passages: {pressure: {fire-tight: yes}}}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called
from plumbing.network.former_holes import passages

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 23.1191 on firewalls, from memory, used as an analogy"


def find(case: Case, limit: float) -> Says:
    for former, passage in passages(case.layout):
        if former.firewall:
            missing = f"formers.{former.name}.passages.{passage.name}.fire-tight"
            wall = called("firewall", former.name)
            what = f"Passage {passage.name} through {wall} is not fire-tight."
            fault = Found(former.name, what, field="passages")
            yield from declared(passage.fire_tight, missing, fault)
