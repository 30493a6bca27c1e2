"""Remedies by other parts: open joints, a larger header, a lower pump."""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from plumbing.model.fields import Vector
from plumbing.model.layout import Layout, split_port
from plumbing.model.line import Line
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Box, Capsule, Cylinder, Ellipsoid, Port, Solid, Tank
from plumbing.network import Role
from plumbing.network.lengths import line_length
from plumbing.simulation.computed import Computed
from plumbing.studies.remedies.flow import SUCTION
from plumbing.studies.remedies.proposal import Proposal
from plumbing.studies.sizing.variants import BARB_BORE
from plumbing.units import show

_SECONDS = 20.0  # of full flow that a header should hold; common practice
_SPARE = 1.02
_RULER = 0.005  # lengths are cut to [m]
_BELOW = 0.02  # of the pump under the lowest tank [m]


def open_joints(case: Computed) -> Iterator[Proposal]:
    """Joints on the suction side opened to nine tenths of the bore of their tubes."""
    layout, found = case.layout, case.survey
    widest: dict[str, float] = {}
    ends = 0
    for use in found.of_role(Role.SUCTION):
        line = layout.lines[use.line]
        bore = BARB_BORE * layout.tube_of(line).inside_diameter
        for joint in (layout.joint_at(line, "from"), layout.joint_at(line, "to")):
            if joint and joint.bore is not None and joint.bore < 0.98 * bore:
                widest[joint.name] = min(bore, widest.get(joint.name, bore))
                ends += 1
    if not widest:
        return
    joints = {name: replace(layout.joints[name], bore=bore) for name, bore in widest.items()}
    words = ", ".join(f"{name} to {show(bore, 'length')}" for name, bore in widest.items())
    yield Proposal(
        change=f"open the bore of {words}",
        costs=f"{ends} joints drilled out or replaced",
        layout=replace(layout, joints={**layout.joints, **joints}),
        aims=SUCTION | {"narrow-bore-on-suction-side"},
    )


def larger_header(case: Computed) -> Iterator[Proposal]:
    """Each header that is too small grown about its centre, its ports with it."""
    layout, found = case.layout, case.survey
    for tank in layout.headers():
        flow = sum(
            layout.engines[name].full_flow or 0.0
            for name, feed in found.feeds.items()
            if feed.header == tank.name
        )
        holds = tank_mesh(tank).volume * (1.0 - tank.displaced) * tank.fill
        if flow <= 0.0 or holds >= _SECONDS * flow:
            continue
        grown = _grown(tank, (_SPARE * _SECONDS * flow / holds) ** (1.0 / 3.0))
        if grown is None:
            continue
        more = tank_mesh(grown).volume - tank_mesh(tank).volume
        yield Proposal(
            change=f"a larger {tank.name} of {show(tank_mesh(grown).volume, 'volume')}, "
            f"{show(_SECONDS, 'time')} of full flow",
            costs=f"{show(more, 'volume')} of room and {show(800.0 * more, 'mass')} of fuel",
            layout=cut_anew(replace(layout, tanks={**layout.tanks, tank.name: grown}), tank.name),
            aims=frozenset({"header-too-small"}),
        )


def _grown(tank: Tank, factor: float) -> Tank | None:
    """A tank of simple shape grown in all directions."""
    shape = tank.shape
    if isinstance(shape, Box | Ellipsoid):
        size = (shape.size[0] * factor, shape.size[1] * factor, shape.size[2] * factor)
        made: Solid = replace(shape, size=size)
    elif isinstance(shape, Cylinder | Capsule):
        made = replace(shape, length=shape.length * factor, diameter=shape.diameter * factor)
    else:
        return None
    ports = {name: _moved(port, shape.at, factor) for name, port in tank.ports.items()}
    return replace(tank, shape=made, ports=ports, capacity=None)  # type: ignore[arg-type]


def _moved(port: Port, centre: Vector, factor: float) -> Port:
    def out(point: Vector) -> Vector:
        x, y, z = (c + factor * (p - c) for c, p in zip(centre, point, strict=True))
        return (x, y, z)

    pickup = port.pickup
    if pickup is not None and pickup.rest is not None:
        pickup = replace(pickup, rest=out(pickup.rest))
    opens = None if port.opens_at is None else out(port.opens_at)
    return replace(port, at=out(port.at), opens_at=opens, pickup=pickup)


def lower_pump(case: Computed) -> Iterator[Proposal]:
    """Each pump that stands above the bottom of its last tank moved below it."""
    layout, found = case.layout, case.survey
    for name, pump in layout.pumps.items():
        last = {feed.last_tank for feed in found.feeds.values() if name in feed.pumps[:1]}
        floors = [tank_mesh(layout.tanks[tank]).bounds[0][2] for tank in last if tank]
        if not floors:
            continue
        height = float(min(floors)) - _BELOW
        if pump.at[2] <= height + 0.03:
            continue
        moved = replace(pump, at=(pump.at[0], pump.at[1], height))
        yield Proposal(
            change=f"{name} {show(pump.at[2] - height, 'length')} lower, at z "
            f"{show(height, 'length')}",
            costs="a new place for the pump, its lines and their passages",
            layout=cut_anew(replace(layout, pumps={**layout.pumps, name: moved}), name),
            aims=SUCTION | {"pump-above-fuel"},
        )


def cut_anew(layout: Layout, part: str) -> Layout:
    """The layout with the lines of a moved part cut longer where they have become short."""
    changed = {
        line.name: replace(line, cut_length=cut_of(layout, line))
        for line in layout.lines.values()
        if part in (split_port(line.from_)[0], split_port(line.to)[0])
        and line.cut_length is not None
        and line.cut_length < line_length(layout, line).to_cut
    }
    return replace(layout, lines={**layout.lines, **changed})


def cut_of(layout: Layout, line: Line) -> float:
    """Length to cut for a route, in whole steps of a ruler [m]."""
    return ceil(line_length(layout, line).to_cut / _RULER - 1e-9) * _RULER
