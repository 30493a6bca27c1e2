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
from plumbing.checks.words import called, on_lines, subject
from plumbing.model.layout import Layout

SEVERITY = Severity.UNSAFE
SOURCE = "common practice; a study of seals in jet fuel (Aeronautical Journal, 2021)"

_Use = tuple[str, str, str, str | None, tuple[str, ...]]  # part, words, path, material, lines


def find(case: Case, limit: float) -> Says:
    for part, words, path, name, lines in _uses(case.layout):
        known = material(name)
        if known is None:
            yield Lacking(f"{path} ({name or 'not stated'})", part)
        elif known.kerosene in ("poor", "unsuitable"):
            unsuitable = known.kerosene == "unsuitable"
            yield Found(
                part,
                f"{words} is made of {name}, which kerosene "
                + ("attacks." if unsuitable else "spoils in time."),
                parts=lines,
                severity=None if unsuitable else Severity.FAULT,
            )


def _uses(layout: Layout) -> Iterator[_Use]:
    tubes: dict[str, list[str]] = {}
    for line in layout.lines.values():
        tubes.setdefault(line.tube, []).append(line.name)
    for name, lines in tubes.items():
        tube = layout.tube_of(layout.lines[lines[0]])
        part = name if name in layout.tubes else lines[0]
        words = f"{subject('tube', name)} {on_lines(lines)}"
        yield part, words, f"tubes.{name}.material", tube.material, tuple(lines)
    for tank, port, hose in hoses(layout):
        path = f"tanks.{tank.name}.ports.{port.name}.pickup.hose.material"
        words = f"The pickup hose at {tank.name}.{port.name}"
        yield tank.name, words, path, hose.material, ()
    for name, joint in layout.joints.items():
        if joint.seal is not None:
            words = f"The seal of {called('joint', name)}"
            yield name, words, f"joints.{name}.seal", joint.seal, ()
