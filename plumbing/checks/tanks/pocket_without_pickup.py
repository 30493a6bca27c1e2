"""Fuel stays in a pocket of a tank that its pickup does not reach.

Why: Over a wing tube or round a duct a tank has legs. What lies in the other leg cannot flow to
the pickup as long as the ridge between them stands above it: the engine stops with fuel on board.
Cure: Fit a second pickup in that pocket, join the pockets by a cross tube at the bottom, or turn
the tank over so that they are one.

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
                f"{one.tank} at {show_point(one.at)}; a ridge {show(one.ridge, 'length', 2)} high "
                "parts it from the pickup.",
                Figure(share, "share"),
                Figure(limit, "share"),
                field="shape",
            )
