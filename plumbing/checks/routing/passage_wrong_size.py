"""A passage does not fit its tube.

Why: A tight hole scuffs and holds the tube; a loose one lets it hammer at the edge.
Cure: Drill the tube diameter and twice the grommet wall, or 1 to 2 mm over where the edge is
sealed.

Bad::

    formers: {F2: {passages: {feed: {diameter: 7 mm}}}}

Good::

    formers: {F2: {passages: {feed: {diameter: 9 mm}}}}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.network.former_holes import threaded
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "common practice"


BARE = {"foam": (0.5e-3, 1e-3)}  # over the tube, for a liner
SEALED = (1e-3, 2e-3)
GROMMET_PLAY = 1e-3
ROUNDING = 0.05e-3


def find(case: Case, limit: float) -> Says:
    for former, passage, lines in threaded(case.layout):
        if len(lines) != 1:
            continue
        tube = case.layout.tube_of(lines[0]).outside_diameter
        if passage.edge == "grommet":
            if passage.grommet is None:
                missing = f"formers.{former.name}.passages.{passage.name}.grommet"
                yield Lacking(missing, former.name)
                continue
            least = tube + 2.0 * passage.grommet
            most = least + GROMMET_PLAY
        else:
            under, over = BARE.get(former.material, SEALED)
            least, most = tube + under, tube + over
        if least - ROUNDING <= passage.diameter <= most + ROUNDING:
            continue
        tight = passage.diameter < least
        what = (
            f"Passage {passage.name} in {former.name} is {show(passage.diameter, 'length')}; "
            f"{lines[0].name} needs {show(least, 'length')} to {show(most, 'length')}."
        )
        yield Found(
            former.name,
            what,
            Figure(passage.diameter, "length"),
            Figure(least if tight else most, "length"),
            "passages",
            (lines[0].name,),
            Severity.FAULT if tight else None,
        )
