"""Something does not stand in what the file says it is inside.

Why: Where `inside` is wrong, the drawing has moved since, and an overlap may go unsaid.
Cure: Take the name out of `inside`, or put right where the two are drawn.

Bad::

    tanks: {header: {inside: [main]}}

Good::

    tanks: {main: {inside: [F2]}}
    formers: {F2: {station: 360 mm}}
"""

from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.checks.words import subject
from plumbing.network.space import between, formers, lines, parts, tanks, zones
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    spaces = [thing for _, thing in zones(layout)]
    hosts = {one.name: one for one in (*tanks(layout), *formers(layout), *spaces)}
    said = [(one, one.inside) for one in (*tanks(layout), *parts(layout), *spaces)]
    said += [(thing, line.inside) for line, thing in lines(layout)]
    for one, names in said:
        for host in (hosts[name] for name in names if name in hosts):
            apart = between(one.body, host.body)
            if apart is not None and not apart.overlap:
                gap = show(apart.size, "length")
                what = f"{subject(one.kind, one.name)} lies {gap} from {host.name}, not inside it."
                figure = Figure(apart.size, "length")
                yield Found(one.name, what, figure, field="inside", parts=(host.name,))
