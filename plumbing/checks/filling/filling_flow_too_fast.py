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
_ROUNDING = 1e-9  # flows are told in whole ml/min


def find(case: Case, limit: float) -> Says:
    flow = case.layout.filling.flow
    if flow is None:
        yield Lacking("filling.flow", "filling")
        return
    for filled in case.filling.values():
        if filled.why_not:
            continue
        safe = filled.safe
        if safe is None or safe.highest is None:
            yield Lacking(f"fill-flow or proof-pressure of a tank filled at {filled.port}")
        elif safe.tank and flow > safe.highest * (1.0 + _ROUNDING):
            what = (
                f"Filled at {filled.port} with {show(flow, 'flow', 5)}; {safe.tank} stands no more "
                f"than {show(safe.highest, 'flow', 5)}."
            )
            figures = Figure(flow, "flow"), Figure(safe.highest, "flow")
            yield Found(safe.tank, what, *figures, parts=(filled.port,))
