"""The filling flow is higher than the tanks stand.

Why: The field pump is stronger than any wall; only its flow keeps the tanks whole.
Cure: Throttle the filling pump to the flow stated here, and write it on the label.

Bad::

    filling: {flow: 1.5 L/min}

Good::

    filling: {flow: 0.8 L/min}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
RESTS_ON = "filling"


def find(case: Case, limit: float) -> Says:
    flow = case.layout.filling.flow
    if flow is None:
        yield Lacking("filling.flow", "filling")
        return
    for filled in case.filling.values():
        if filled.why_not:
            continue
        stated = {
            name: most
            for name in filled.tanks
            if (most := case.layout.tanks[name].fill_flow) is not None
        }
        if filled.safe is not None and filled.safe.tank and filled.safe.highest is not None:
            name = filled.safe.tank
            stated[name] = min(stated.get(name, filled.safe.highest), filled.safe.highest)
        if not stated:
            yield Lacking(f"fill-flow or proof-pressure of a tank filled at {filled.port}")
            continue
        tank = min(stated, key=lambda name: stated[name])
        if flow > stated[tank]:
            what = (
                f"Filled at {filled.port} with {show(flow, 'flow')}; {tank} stands no more than "
                f"{show(stated[tank], 'flow')}."
            )
            figures = Figure(flow, "flow"), Figure(stated[tank], "flow")
            yield Found(tank, what, *figures, parts=(filled.port,))
