"""The tanks do not empty in the order meant.

Why: The balance was worked out for one order; the vents decide another, and the aircraft comes
home tail-heavy.
Cure: Vent only the tank meant to empty first, and chain the others behind one another.
Over: chained-pair

Bad::

    feed-order: [starboard, port, header]

Good::

    feed-order: [port, starboard, header]
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    layout, order = case.layout, case.survey.order
    mains = [tank for tank in layout.tanks.values() if tank.role == "main"]
    if not layout.feed_order:
        if len(mains) > 1:
            yield Lacking("feed-order")
        return
    for conflict in order.conflicts:
        what = f"The tanks do not empty as meant: {conflict.what}."
        yield Found(conflict.first, what, parts=(conflict.then,))
