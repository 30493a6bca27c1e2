"""A line goes through a former where no passage is drawn.

Why: A hole that is not on the drawing is drilled by eye, too near an edge and without a
grommet.
Cure: Draw the passage and name it on the line, or lead the route round the former.

Bad::

    lines: {feed: {through: null}}

Good::

    lines: {feed: {through: [F2.feed]}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.structure import Former
from plumbing.network.former_holes import Piercing, at_words, nearest, piercings, within

SEVERITY = Severity.FAULT
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for line in case.layout.lines.values():
        for former in case.layout.formers.values():
            if former.name in line.inside:
                continue
            through = _without_passage(case.layout, line, former)
            if through and not former.outline:
                yield Lacking(f"formers.{former.name}.outline", line.name)
            elif through:
                more = f" and {len(through) - 1} more times" if len(through) > 1 else ""
                what = (
                    f"Line {line.name} goes through {former.name} at "
                    f"{at_words(former, through[0].at)}{more} and names no passage there."
                )
                yield Found(line.name, what, field="through", parts=(former.name,))


def _without_passage(layout: Layout, line: Line, former: Former) -> list[Piercing]:
    """Places where a line goes through a former and which are not those of its passages."""
    met = piercings(layout, line, former)
    named = [name.partition(".")[2] for name in line.through if name.startswith(f"{former.name}.")]
    meant = [nearest(met, former.passages[name].at) for name in named]
    drawn = former.outline
    return [one for one in met if one not in meant and (not drawn or within(former, one.at))]
