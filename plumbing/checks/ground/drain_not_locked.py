"""A drain does not lock closed.

Why: A drain knocked open empties the tank, or lets air into the suction side in flight.
Cure: Use a drain with a positive lock, or a screwed plug.

Bad::

    tanks: {main: {ports: {drain: {at: [300 mm, 0 mm, -10 mm], bore: 3 mm}}}}
    drains: {drain: {at: [300 mm, 0 mm, -80 mm], bore: 3 mm, locks: no}}
    lines: {drain: {from: main.drain, to: drain.tube, tube: polyurethane 6x4}}

Good::

    tanks: {main: {ports: {drain: {at: [300 mm, 0 mm, -10 mm], bore: 3 mm}}}}
    drains: {drain: {at: [300 mm, 0 mm, -80 mm], bore: 3 mm, locks: yes}}
    lines: {drain: {from: main.drain, to: drain.tube, tube: polyurethane 6x4}}
"""

from plumbing.checks.declared import declared
from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import subject

SEVERITY = Severity.FAULT
SOURCE = "14 CFR 23.999, from memory, used as an analogy"


def find(case: Case, limit: float) -> Says:
    for drain in case.layout.drains.values():
        fault = Found(
            drain.name, f"{subject('drain', drain.name)} does not lock closed.", field="locks"
        )
        yield from declared(drain.locks, f"drains.{drain.name}.locks", fault)
