"""A soft tube on the suction side has too thin a wall.

Why: Suction flattens it, most of all warm and in a bend, and the engine starves at full throttle.
Cure: A thicker wall: bore not more than four times the wall; or a harder tube.

Bad::

    tubes:
      thin hose: {outside-diameter: 5.2 mm, inside-diameter: 4 mm, material: fluoroelastomer}
    lines:
      feed: {tube: thin hose}

Good::

    lines:
      feed: {tube: fluoroelastomer 6.4x4}
    formers: {F2: {passages: {feed: {diameter: 9.4 mm}}}}
"""

from collections.abc import Iterator

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.materials import is_metal, is_soft
from plumbing.checks.pickups import hoses
from plumbing.checks.sides import lines_of
from plumbing.checks.words import called, subject

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("4", "ratio")  # bore over wall


def find(case: Case, limit: float) -> Says:
    for part, words, bore, wall in _soft(case):
        if isinstance(wall, Lacking):
            yield wall
        elif bore > limit * wall * (1.0 + 1e-9):
            yield Found(
                part,
                f"{words} has a wall of {units.show(wall, 'length')} round a bore of "
                f"{units.show(bore, 'length')}; it holds {units.show(limit * wall, 'length')} open "
                "under suction if the tube is soft.",
                Figure(bore / wall, "ratio"),
                Figure(limit, "ratio"),
            )


def _soft(case: Case) -> Iterator[tuple[str, str, float, float | Lacking]]:
    """Soft tubes and hoses under suction: part, in words, bore and wall [m]."""
    for line in lines_of(case, "suction"):
        tube = case.layout.tube_of(line)
        soft, bore = is_soft(tube), tube.inside_diameter
        if soft is None:
            yield line.name, "", bore, Lacking(f"tubes.{tube.name}.hardness", line.name)
        elif soft:
            wall = 0.5 * (tube.outside_diameter - bore)
            yield (
                line.name,
                f"{subject('tube', tube.name)} of {called('line', line.name)}",
                bore,
                wall,
            )
    for tank, port, hose in hoses(case.layout):
        if is_metal(hose.material):
            continue
        if hose.outside_diameter is None:
            path = f"tanks.{tank.name}.ports.{port.name}.pickup.hose.outside-diameter"
            yield tank.name, "", hose.bore, Lacking(path, tank.name)
        else:
            wall = 0.5 * (hose.outside_diameter - hose.bore)
            yield tank.name, f"The pickup hose at {tank.name}.{port.name}", hose.bore, wall
