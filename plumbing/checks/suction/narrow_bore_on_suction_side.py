"""Something on the suction side is much narrower than its line, or a tube than the others.

Why: The smallest bore governs: six 3 mm barbs in 4 mm tube can take more than all the tube.
Cure: Open the barb or nipple to the bore of the tube, or fit one made for it; use one tube all the
way.

Bad::

    joints:
      barb-4: {bore: 2.5 mm}

Good::

    joints:
      barb-4: {bore: 3.6 mm}
"""

from collections.abc import Iterator

from plumbing import units
from plumbing.checks.joints import stated, unstated
from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.checks.pickups import hoses
from plumbing.checks.sides import lines_of
from plumbing.checks.words import called, subject
from plumbing.model.layout import Layout, port_bore, split_port
from plumbing.model.line import Line
from plumbing.model.tank import Tank

SEVERITY = Severity.FAULT
SOURCE = "common practice"
LIMIT = Limit("70 %", "share")

_COSTS = 1e3  # [Pa] as much as a clean filter before the pump may cost; common practice

_Narrow = tuple[str, str, float, float]  # part, in words, its bore, bore of its line


def find(case: Case, limit: float) -> Says:
    suction = lines_of(case, "suction")
    yield from unstated(case.layout, suction)
    worst: dict[tuple[str, str], _Narrow] = {}
    for said in _bores(case.layout, suction):
        if isinstance(said, Lacking):
            yield said
            continue
        part, words, bore, line = said
        known = worst.setdefault((part, words), said)
        if bore / line < known[2] / known[3]:
            worst[part, words] = said
    for part, words, bore, line in worst.values():
        if bore < limit * line * (1.0 - 1e-9):
            yield Found(
                part,
                f"{words} has {units.show(bore, 'length')} bore in a line of "
                f"{units.show(line, 'length')}, {units.show(bore / line, 'share', 2)}; "
                f"{units.show(limit, 'share', 2)} is the least.",
                Figure(bore / line, "share"),
                Figure(limit, "share"),
                field="bore",
            )
    yield from _tubes(case, suction, limit)


def _tubes(case: Case, suction: tuple[Line, ...], limit: float) -> Iterator[Found]:
    """Tubes much narrower than the widest before the same pump; how bad is what they cost."""
    bores = {line.name: case.layout.tube_of(line).inside_diameter for line in suction}
    if min(bores.values(), default=0.0) >= limit * max(bores.values(), default=0.0):
        return  # nothing to be worked out
    told = set()
    for peak in case.peak.engines.values():
        path = [one for one in peak.elements if one.line in bores]
        widest = max((bores[one.line] for one in path), default=0.0)
        for name in dict.fromkeys(one.line for one in path):
            if name in told or bores[name] >= limit * widest * (1.0 - 1e-9):
                continue
            told.add(name)
            cost = sum(one.drop.value for one in path if one.line == name)
            own, share = units.show(bores[name], "length"), bores[name] / widest
            yield Found(
                name,
                f"{subject('line', name)} has {own} bore among lines of "
                f"{units.show(widest, 'length')}, {units.show(share, 'share', 2)}; "
                f"{units.show(limit, 'share', 2)} is the least. It costs "
                f"{units.show(cost, 'pressure', 2)} at full flow on a usual day.",
                Figure(share, "share"),
                Figure(limit, "share"),
                field="tube",
                severity=None if cost > _COSTS else Severity.ADVICE,
            )


def _bores(layout: Layout, suction: tuple[Line, ...]) -> Iterator[_Narrow | Lacking]:
    for end in stated(layout, suction):
        if end.joint.bore is None:
            yield Lacking(f"joints.{end.joint.name}.bore", end.joint.name)
        else:
            words = subject("joint", end.joint.name)
            yield end.joint.name, words, end.joint.bore, end.tube.inside_diameter
    for line in suction:
        bore = layout.tube_of(line).inside_diameter
        for fitting in line.fittings:
            yield line.name, f"A {fitting.kind} in {called('line', line.name)}", fitting.bore, bore
        for reference in (line.from_, line.to):
            yield from _port(layout, reference, bore)
    widths = {line.from_: layout.tube_of(line).inside_diameter for line in suction}
    for tank, port, hose in hoses(layout):
        reference = f"{tank.name}.{port.name}"
        if reference in widths:
            yield tank.name, f"The pickup hose at {reference}", hose.bore, widths[reference]


def _port(layout: Layout, reference: str, line: float) -> Iterator[_Narrow | Lacking]:
    name, port = split_port(reference)
    part = layout.part(name)
    bore = port_bore(part, port)
    if bore is not None:
        words = f"Port {reference}" if isinstance(part, Tank) else f"{name}"
        yield name, words, bore, line
    elif isinstance(part, Tank):
        yield Lacking(f"tanks.{name}.ports.{port}.bore", name)
