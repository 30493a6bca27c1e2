"""A line runs too near a hot part.

Why: Urethane tube softens from about 60 degrees; beside the engine case it lets go with the
engine running.
Cure: Route it away, put a fire sleeve on it, or shield the hot part and let air through.

Bad::

    zones:
      engine case:
        shielded: no
        body: {cylinder: {at: [900 mm, 0 mm, 40 mm]}}

Good::

    zones:
      engine case:
        shielded: no
        body: {cylinder: {at: [1210 mm, 0 mm, 10 mm]}}
"""

from plumbing.checks.kit import Case, Limit, Says, Severity
from plumbing.checks.materials import material
from plumbing.checks.spacing import least, too_near
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.structure import Zone
from plumbing.network.space import free_of_engines, zones

SEVERITY = Severity.UNSAFE
SOURCE = "common practice: half of it with moving air, a fire sleeve or a tube that stands it"
LIMIT = Limit("50 mm", "length")


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for zone, thing in zones(layout, "hot", "exhaust"):
        for line in layout.lines.values():
            cooled = zone.airflow or line.sleeve == "fire" or _stands(layout, line, zone)
            allowed = least(zone, 0.5 * limit if cooled else limit)
            own = free_of_engines(layout, line, zone, limit)
            yield from too_near(layout, own, [thing], allowed)


def _stands(layout: Layout, line: Line, zone: Zone) -> bool:
    """Whether the tube stands the temperature of the zone."""
    tube = layout.tube_of(line)
    known = material(tube.material)
    stands = tube.max_temperature or (known.max_celsius if known else None)
    return stands is not None and zone.temperature is not None and stands >= zone.temperature
