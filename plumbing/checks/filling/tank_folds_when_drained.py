"""The suction of draining comes near what folds a tank's wall.

Why: The filling pump draws harder than the engine ever does, and at home nobody looks at the
tanks while it runs.
Cure: Draw the fuel back more slowly, or through a wider line; a wider vent where that is what
holds the air back.

Bad::

    tanks: {header: {wall: {collapse-suction: 0.3 kPa}}}

Good::

    tanks: {header: {wall: {collapse-suction: 60 kPa}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "computed draining; the share of what folds a wall is common practice"
RESTS_ON = "draining"
LIMIT = Limit("50 %", "share")


def find(case: Case, limit: float) -> Says:
    drained = tuple(case.draining.values())
    if not drained:
        return
    for name, tank in case.layout.tanks.items():
        if tank.wall is not None and tank.wall.kind == "bag":
            continue
        if tank.wall is None or tank.wall.collapse_suction is None:
            yield Lacking(f"tanks.{name}.wall.collapse-suction", name)
            continue
        worst = max(drained, key=lambda one: one.suction[name])
        suction, allowed = worst.suction[name], limit * tank.wall.collapse_suction
        if suction > allowed:
            what = (
                f"Drained at {worst.place}, {name} comes to {show(suction, 'pressure')} of "
                f"suction; it folds at {show(tank.wall.collapse_suction, 'pressure')}."
            )
            figures = Figure(suction, "pressure"), Figure(allowed, "pressure")
            yield Found(name, what, *figures, field="wall", parts=(worst.place,))
