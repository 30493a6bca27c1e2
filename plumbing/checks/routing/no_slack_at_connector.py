"""A line to a parting connector has no slack.

Why: A wing pulled on or off tugs at the tube, and the joint that moves is the one that leaks.
Cure: Leave a loop of 30 mm and the travel of the halves, held by a clip behind it.

Bad::

    connectors: {root: {at: [410 mm, 0 mm, 110 mm], bore: 4 mm, travel: 20 mm}}
    lines:
      feed: {to: root.in, spare: 10 mm, through: null, route: [[300 mm, 0 mm, 110 mm]]}
      root to header: {from: root.out, to: header.in, tube: polyurethane 6x4, spare: 60 mm,
        through: [F2.feed], route: [[520 mm, 0 mm, 110 mm]]}

Good::

    connectors: {root: {at: [410 mm, 0 mm, 110 mm], bore: 4 mm, travel: 20 mm}}
    lines:
      feed: {to: root.in, spare: 60 mm, through: null, route: [[300 mm, 0 mm, 110 mm]]}
      root to header: {from: root.out, to: header.in, tube: polyurethane 6x4, spare: 60 mm,
        through: [F2.feed], route: [[520 mm, 0 mm, 110 mm]]}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("30 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for connector in layout.connectors.values():
        if connector.travel is None:
            yield Lacking(f"connectors.{connector.name}.travel", connector.name)
            continue
        needed = limit + connector.travel
        for line in layout.lines.values():
            if connector.name not in (line.from_.partition(".")[0], line.to.partition(".")[0]):
                continue
            if line.spare is None:
                yield Lacking(f"lines.{line.name}.spare", line.name)
            elif line.spare < needed:
                what = (
                    f"Line {line.name} has {show(line.spare, 'length')} of slack at "
                    f"{connector.name}, not {show(needed, 'length')}."
                )
                figures = Figure(line.spare, "length"), Figure(needed, "length")
                yield Found(line.name, what, *figures, "spare", (connector.name,))
