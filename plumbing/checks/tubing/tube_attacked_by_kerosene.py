"""A tube, hose or seal is made of a material that kerosene attacks.

Why: It swells, softens and lets go, often within days, and its crumbs go to the pump.
Cure: Use nylon, PTFE, fluoroelastomer or metal; polyurethane where it stays cool.

Bad::

    tubes:
      clear hose: {outside-diameter: 6 mm, inside-diameter: 4 mm, material: silicone}
    lines:
      feed: {tube: clear hose}

Good::

    lines:
      feed: {tube: nylon 6x4}
"""

from collections.abc import Iterator

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.materials import material
from plumbing.checks.pickups import hoses
from plumbing.model.layout import Layout

SEVERITY = Severity.UNSAFE
SOURCE = "common practice; a study of seals in jet fuel (Aeronautical Journal 2021)"

_Use = tuple[str, str, str, str | None]  # part, in words, key path, material


def find(case: Case, limit: float) -> Says:
    for part, words, path, name in _uses(case.layout):
        known = material(name)
        if known is None:
            yield Lacking(f"{path} ({name or 'not stated'})", part)
        elif known.kerosene == "attacked":
            yield Found(part, f"{words} is made of {name}, which kerosene attacks.")


def _uses(layout: Layout) -> Iterator[_Use]:
    for name, line in layout.lines.items():
        tube = layout.tube_of(line)
        yield name, f"Line {name}", f"tubes.{tube.name}.material", tube.material
    for tank, port, hose in hoses(layout):
        path = f"tanks.{tank.name}.ports.{port.name}.pickup.hose.material"
        words = f"The pickup hose at {tank.name}.{port.name}"
        yield tank.name, words, path, hose.material
    for name, joint in layout.joints.items():
        if joint.seal is not None:
            yield name, f"The seal of joint {name}", f"joints.{name}.seal", joint.seal
