"""A tank comes near to bursting while it is filled.

Why: Once the overflow runs full of fuel the pressure jumps; every tank before it in the chain
bears the loss of all lines behind it, and flat walls split at a few kilopascal.
Cure: Fill more slowly, or widen the lines that carry fuel on to the overflow; a bag has none, so
stop at its volume, or fill it with a pump that gives less than half of what it is proved to.

Bad::

    filling: {flow: 4 L/min, pump-pressure: 200 kPa}
    tanks: {main: {wall: {proof-pressure: 12 kPa}}}

Good::

    filling: {flow: 0.8 L/min}
"""

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.simulation.filling_flow import PROOF_SHARE
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"
RESTS_ON = "filling"
LIMIT = Limit(f"{100 * PROOF_SHARE:.0f} %", "share")


def find(case: Case, limit: float) -> Says:
    if case.layout.filling.flow is None:
        yield Lacking("filling.flow", "filling")
        return
    for filled in case.filling.values():
        for tank in filled.tanks.values():
            if tank.rated is None:
                yield Lacking(f"tanks.{tank.tank}.wall.proof-pressure", tank.tank)
                continue
            if tank.pressure > limit * tank.rated:
                bag = tank.tank in case.survey.bags
                when = "when the pump goes on" if bag else "with the overflow full of fuel"
                what = (
                    f"Filled at {filled.port}, {tank.tank} comes under "
                    f"{show(tank.pressure, 'pressure')} {when}; it is proved to "
                    f"{show(tank.rated, 'pressure')}."
                )
                figures = Figure(tank.pressure, "pressure"), Figure(limit * tank.rated, "pressure")
                yield Found(tank.tank, what, *figures, "wall", (filled.port,))
