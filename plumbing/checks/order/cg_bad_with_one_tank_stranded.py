"""One tank that keeps its fuel takes the centre of gravity out of its limits.

Why: A pickup off its hose or a leak in a chain strands a whole tank, and the landing is flown so.
Cure: Keep each tank near the centre of gravity, so that none of them alone decides the balance.

Bad::

    aircraft: {cg-limits: [368 mm, 392 mm]}

Good::

    aircraft: {cg-limits: [300 mm, 430 mm]}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.simulation.balance import lacking, stranded_states
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "common practice: work the balance out once with each tank left full"


def find(case: Case, limit: float) -> Says:
    limits, missing = case.layout.aircraft.cg_limits, lacking(case.layout)
    if limits is None or missing:
        yield Lacking(missing or "aircraft.cg-limits", "aircraft")
        return
    for state in stranded_states(case.layout):
        x = state.cg[0]
        edge = min(max(x, limits[0]), limits[1])
        if x != edge:
            side = "ahead of" if x < edge else "behind"
            yield Found(
                state.tanks[0],
                f"With {state.what} the centre of gravity lies at {show(x, 'length')}, "
                f"{show(abs(x - edge), 'length')} {side} its limit.",
                Figure(x, "length"),
                Figure(edge, "length"),
            )
