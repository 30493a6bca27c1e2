"""A clunk can reach a spot where it jams.

Why: A clunk thrown forward in a dive lodges behind a fitting or baffle and stays there, dry.
Cure: Shorten the hose, or fit a guide tube so that the clunk cannot turn back on itself. Lead a
rigid tube through a baffle, so that the hose swings behind it.

Bad::

    tanks: {main: {ports: {feed: {pickup: {kind: clunk, reach: 260 mm, snag: 200 mm}}}}}

Good::

    tanks: {main: {ports: {feed: {pickup: {kind: clunk, reach: 260 mm, snag: 400 mm}}}}}
"""

from collections.abc import Iterator

from plumbing.checks.kit import Case, Figure, Found, Lacking, Says, Severity
from plumbing.checks.pickups import clunks
from plumbing.model.tank import Pickup, Port, Tank
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    for tank, port, pickup in clunks(case.layout):
        where = f"tanks.{tank.name}.ports.{port.name}.pickup"
        if pickup.snag is None or pickup.reach is None:
            yield Lacking(f"{where}.{'reach' if pickup.reach is None else 'snag'}", tank.name)
        elif pickup.reach >= pickup.snag:
            what = (
                f"The clunk of {tank.name} reaches {show(pickup.reach, 'length')}; "
                f"it can jam at {show(pickup.snag, 'length')}."
            )
            reach, snag = Figure(pickup.reach, "length"), Figure(pickup.snag, "length")
            yield Found(tank.name, what, reach, snag, "ports")
        else:
            yield from _at_baffles(tank, port, pickup, pickup.reach)


def _at_baffles(tank: Tank, port: Port, pickup: Pickup, reach: float) -> Iterator[Found]:
    """Baffles that the hose, and not the rigid tube before it, would have to pass."""
    rigid = max(0.0, reach - pickup.hose.length) if pickup.hose else 0.0
    for baffle in tank.baffles:
        off = abs(baffle.at - port.at[0])
        if rigid < off < reach:
            what = (
                f"The clunk of {tank.name} reaches {show(reach, 'length')}; the baffle "
                f"{show(off, 'length')} from its port is in its way."
            )
            yield Found(tank.name, what, Figure(reach, "length"), Figure(off, "length"), "ports")
