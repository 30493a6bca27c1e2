"""A tube too stiff to stretch is pushed over a barb.

Why: A barb seals and holds only by stretching the tube; metal cannot stretch, and hard plastic
cracks or lets go.
Cure: A compression or push-in joint made for the tube, or a short piece of soft tube over a
bead on the metal.

Bad::

    tubes: {stub: {outside-diameter: 6 mm, inside-diameter: 4.2 mm, material: aluminium}}
    lines: {feed: {tube: stub}}

Good::

    joints: {ring: {kind: compression, bore: 4 mm, outside-diameter: 6 mm}}
    tubes: {stub: {outside-diameter: 6 mm, inside-diameter: 4.2 mm, material: aluminium}}
    lines: {feed: {tube: stub, joint: ring}}
"""

from plumbing.checks.joints import Pairing, pairings, unstated
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.materials import is_metal, material
from plumbing.checks.words import called, on_lines, subject
from plumbing.units import show

SEVERITY = Severity.UNSAFE
SOURCE = "common practice: hard plastic, warmed, stretches by a fifth; metal does not"
LIMIT = Limit("20 %", "share")

_HARD = 98.0  # Shore A from which a plastic is beyond that scale, as nylon and PTFE


def find(case: Case, limit: float) -> Says:
    yield from unstated(case.layout)
    for pair in pairings(case.layout):
        if pair.joint.kind == "barb":
            yield from _stretch(pair, 0.0 if is_metal(pair.tube.material) else limit)


def _stretch(pair: Pairing, allowed: float) -> Says:
    known, hardness = material(pair.tube.material), pair.tube.hardness
    if hardness is None and known is not None:
        hardness = known.hardness
    if hardness is None and allowed:
        yield Lacking(f"tubes.{pair.tube.name}.hardness", pair.lines[0])
        return
    if allowed and (hardness or 0.0) < _HARD:
        return
    barb = pair.joint.outside_diameter
    if barb is None:
        yield Lacking(f"joints.{pair.joint.name}.outside-diameter", pair.joint.name)
        return
    stretch = barb / pair.tube.inside_diameter - 1.0
    if stretch > allowed:
        made = pair.tube.material or f"{hardness:g} Shore A"
        yield Found(
            pair.lines[0],
            f"{subject('tube', pair.tube.name)} of {made} would have to stretch by "
            f"{show(stretch, 'share')} over {called('joint', pair.joint.name)}, "
            f"{on_lines(pair.lines)}; {show(allowed, 'share') if allowed else 'nothing'} is what "
            "it can.",
            Figure(stretch, "share"),
            Figure(allowed, "share"),
            field="tube",
            parts=(*pair.lines[1:], pair.joint.name),
        )
