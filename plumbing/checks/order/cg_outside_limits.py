"""The centre of gravity leaves its limits as the tanks empty.

Why: Ahead of the limit the aircraft does not flare; behind it, it does not recover.
Cure: Move a tank, or change the order so that tanks far from the limit empty first.

Bad::

    aircraft: {dry-cg: [395 mm, 0 mm, 20 mm]}

Good::

    aircraft: {dry-cg: [372 mm, 0 mm, 20 mm]}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.simulation.balance import lacking, states
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    aircraft = case.layout.aircraft
    if aircraft.cg_limits is None:
        yield Lacking("aircraft.cg-limits", "aircraft")
    missing = lacking(case.layout)
    if missing:
        yield Lacking(missing, "aircraft")
    if aircraft.cg_limits is None or missing:
        return
    forward, aft = aircraft.cg_limits
    for state in states(case.layout, case.survey.order.steps):
        x = state.cg[0]
        if forward <= x <= aft:
            continue
        edge, side = (forward, "ahead of") if x < forward else (aft, "behind")
        what = (
            f"With {state.what} the centre of gravity lies at {show(x, 'length')}, "
            f"{show(abs(x - edge), 'length')} {side} its limit."
        )
        figures = Figure(x, "length"), Figure(edge, "length")
        yield Found(
            state.tanks[0] if state.tanks else "aircraft", what, *figures, parts=state.tanks[1:]
        )
