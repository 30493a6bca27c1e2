"""Fuel stays in a pocket of a tank that its pickup does not reach.

Why: Over a wing tube or round a duct a tank has legs. What lies in the other leg cannot flow to
the pickup as long as the ridge between them stands above it, and small holes in a baffle let fuel
through more slowly than it is burnt: the engine stops with fuel on board.
Cure: Fit a second pickup in that pocket, join the pockets by a cross tube at the bottom, turn the
tank over so that they are one, or bore larger holes at the bottom of the baffle.

Bad::

    tanks:
      main:
        shape:
          prism:
            at: [300 mm, 0 mm, 25 mm]
            sections:
              - {station: -120 mm, outline: [[-45 mm, -35 mm], [-15 mm, -35 mm], [-15 mm, 15 mm],
                  [15 mm, 15 mm], [15 mm, -35 mm], [45 mm, -35 mm], [45 mm, 35 mm],
                  [-45 mm, 35 mm]]}
              - {station: 120 mm, outline: [[-45 mm, -35 mm], [-15 mm, -35 mm], [-15 mm, 15 mm],
                  [15 mm, 15 mm], [15 mm, -35 mm], [45 mm, -35 mm], [45 mm, 35 mm],
                  [-45 mm, 35 mm]]}

Good::

    tanks:
      main:
        shape:
          prism:
            at: [300 mm, 0 mm, 25 mm]
            sections:
              - {station: -120 mm, outline: [[-45 mm, -35 mm], [-15 mm, -35 mm], [-15 mm, -33 mm],
                  [15 mm, -33 mm], [15 mm, -35 mm], [45 mm, -35 mm], [45 mm, 35 mm],
                  [-45 mm, 35 mm]]}
              - {station: 120 mm, outline: [[-45 mm, -35 mm], [-15 mm, -35 mm], [-15 mm, -33 mm],
                  [15 mm, -33 mm], [15 mm, -35 mm], [45 mm, -35 mm], [45 mm, 35 mm],
                  [-45 mm, 35 mm]]}
"""

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.words import called
from plumbing.results import got
from plumbing.simulation.flight_result import PocketLeft
from plumbing.units import show, show_point

SEVERITY = Severity.FAULT
SOURCE = "common practice: a main should give all but a twentieth of its fuel"
LIMIT = Limit("5 %", "share")


def find(case: Case, limit: float) -> Says:
    flight = got(case.flight)
    first = flight.stops_first
    ends = f"{called('engine', first)} stops" if first else "the run ends"
    for one in flight.pockets:
        place = flight.dry_run.tanks.index(one.tank)
        share = one.volume / float(flight.dry_run.volume[0, place])
        if share > limit:
            yield Found(
                one.tank,
                f"When {ends}, {show(one.volume, 'volume', 2)} are still in the pocket of "
                f"{one.tank} at {show_point(one.at)}; {_parted(one)}.",
                Figure(share, "share"),
                Figure(limit, "share"),
                field="shape",
            )


def _parted(pocket: PocketLeft) -> str:
    if pocket.baffled:
        return "the holes of a baffle let it through too slowly"
    return f"a ridge {show(pocket.ridge, 'length', 2)} high parts it from the pickup"
