"""Fuel can reach the engine while the tanks are filled.

Why: The filling pump pushes fuel through the stopped fuel pump: the engine is flooded, and the
next start burns out of the tail.
Cure: Put a shut-off between the fill port and the engine, and close it before filling.

Bad::

    valves: {shut-off: {filling: open}, fuel valve: {filling: open}}

Good::

    valves: {shut-off: {filling: closed}, fuel valve: {filling: closed}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity
from plumbing.checks.words import called

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for fill in case.survey.fills.values():
        for way in fill.engines:
            if not way.floods:
                continue
            if way.valves:
                what = f"While filling, {way.valves[-1]} is open and fuel reaches {way.engine}."
            else:
                port = called("fill port", fill.port)
                what = f"No shut-off stands between {port} and {way.engine} while filling."
            yield Found(way.valves[-1] if way.valves else fill.port, what, parts=(way.engine,))
