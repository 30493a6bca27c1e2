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
from plumbing.checks.words import called, listed
from plumbing.network.filling import ToEngine
from plumbing.network.fuel_ways import valves_on_way, whole_ways

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for fill in case.survey.fills.values():
        for way in fill.engines:
            if not way.floods:
                yield from _by_hand(case, way)
                continue
            if way.valves:
                what = f"While filling, {way.valves[-1]} is open and fuel reaches {way.engine}."
            else:
                port = called("fill port", fill.port)
                what = f"No shut-off stands between {port} and {way.engine} while filling."
            yield Found(way.valves[-1] if way.valves else fill.port, what, parts=(way.engine,))


def _by_hand(case: Case, way: ToEngine) -> Says:
    """A shut-off before the fill port, which keeps nothing from the engine."""
    valves = case.layout.valves
    if not way.valves or any(valves[name].kind == "shut-off" for name in way.valves):
        return
    ways = whole_ways(case.survey, way.engine)
    fed = [valve for one in ways for valve in valves_on_way(case.survey, one)]
    before = tuple(dict.fromkeys(one.name for one in fed if one.kind == "shut-off"))
    if before:
        what = (
            f"While filling, only {way.valves[-1]}, which is electric, keeps fuel from "
            f"{way.engine}: {listed(before)} stands between the tanks and the fill port."
        )
        parts = (way.engine, way.valves[-1])
        yield Found(before[0], what, parts=parts, severity=Severity.FAULT)
