"""Remedies for fuel that lies in a pocket: a cross tube, a second pickup, the tank turned over."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.below import span
from plumbing.geometry.below_points import face_below
from plumbing.geometry.inset import contains
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.near import surface_distance
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.meshes import tank_mesh
from plumbing.model.parts import Tee
from plumbing.model.tank import Pickup, Port, Tank
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.results import NotComputed
from plumbing.simulation.computed import Computed
from plumbing.simulation.levels import LEVEL
from plumbing.simulation.opening import USUAL_BORE, opening_of
from plumbing.simulation.room import room_of
from plumbing.studies.remedies.flow import next_wider, with_pores
from plumbing.studies.remedies.parts import cut_anew
from plumbing.studies.remedies.proposal import Proposal
from plumbing.studies.remedies.vents import written_back
from plumbing.studies.sizing.variants import with_tubes
from plumbing.units import show, show_point

AIMS = frozenset({"pocket-without-pickup", "fuel-stranded", "drain-leaves-fuel"})
_BELOW = 0.04  # of a cross tube under the floors it joins [m]
_OVER = 0.04  # of a tee above the lid [m]
_FLOOR = 1e-3  # corners this near to the lowest are its floor [m]
_NEAR = 3e-3  # a port is measured with a ruler [m]


@frozen
class _Pocket:
    """A pocket that nothing feeds from: the floors there and at the pickup, and the feed line."""

    tank: Tank
    port: Port
    feed: Line
    near: Vector
    far: Vector


def cross_tube(case: Computed) -> Iterator[Proposal]:
    """A tube from the floor of each pocket that keeps fuel to the floor under the pickup."""
    layout = case.layout
    for one in _pockets(case):
        tube = next_wider(layout, layout.tube_of(one.feed)) or layout.tube_of(one.feed)
        ends = ("cross near", "cross far")
        added = {
            name: Port(name=name, at=at) for name, at in zip(ends, (one.near, one.far), strict=True)
        }
        tank = replace(one.tank, ports={**one.tank.ports, **added})
        low = min(one.near[2], one.far[2]) - _BELOW
        line = Line(
            name=f"cross tube of {tank.name}",
            from_=f"{tank.name}.{ends[0]}",
            to=f"{tank.name}.{ends[1]}",
            tube=tube.name,
            route=tuple((x, y, low) for x, y, _ in (one.near, one.far)),
        )
        made = _with(layout, tank, {line.name: line})
        length = float(np.linalg.norm(np.subtract(one.near, one.far))) + 2.0 * _BELOW
        yield Proposal(
            change=f"a cross tube of {tube.name} under {tank.name}, from {show_point(one.near)} "
            f"to {show_point(one.far)}",
            costs=f"{show(length, 'length', 2)} of tube, two holes in the floor of {tank.name}, "
            "two joints",
            layout=with_tubes(made, {line.name: tube.name}, new_joints=True),
            aims=AIMS,
        )


def second_pickup(case: Computed) -> Iterator[Proposal]:
    """A pickup in each pocket that keeps fuel, teed to the first, both with fine pores."""
    layout = case.layout
    for one in _pockets(case):
        mesh = tank_mesh(one.tank)
        port = with_pores(
            Port(
                name="feed far",
                at=_lid_over(mesh, one.far),
                bore=one.port.bore,
                pickup=Pickup(kind="fixed", rest=one.far),
            )
        )
        ports = {**one.tank.ports, port.name: port, one.port.name: with_pores(one.port)}
        tank = replace(one.tank, ports=ports)
        at, route = _tee_at(one.feed, one.port.at, port.at, float(mesh.bounds[1][2]))
        bore = layout.tube_of(one.feed).inside_diameter
        tee = Tee(name=f"tee over {tank.name}", at=at, bore=bore)
        ends = {one.port.name: "run-a", port.name: "branch"}
        branches = {
            f"{name} to tee": replace(
                one.feed,
                name=f"{name} to tee",
                from_=f"{tank.name}.{name}",
                to=f"{tee.name}.{ends[name]}",
                route=((*ports[name].at[:2], tee.at[2]),),
                through=(),
                fittings=(),
                cut_length=None,
                bend_radius=None,
            )
            for name in ends
        }
        feed = replace(one.feed, from_=f"{tee.name}.run-b", route=route, cut_length=None)
        made = _with(layout, tank, {**branches, feed.name: feed})
        yield Proposal(
            change=f"a second pickup in {tank.name} at {show_point(one.far)}, teed to the first, "
            "both with fine pores",
            costs="two fine-pore pickups to be renewed when dirty, a hole in the lid of "
            f"{tank.name}, a tee, two branches",
            layout=replace(made, tees={**made.tees, tee.name: tee}),
            aims=AIMS,
        )


def turned_over(case: Computed) -> Iterator[Proposal]:
    """Each tank with a pocket that keeps fuel turned over, so that its legs stand up."""
    layout = case.layout
    for name in dict.fromkeys(one.tank.name for one in _pockets(case)):
        tank = layout.tanks[name]
        over = replace(tank, shape=replace(tank.shape, roll=tank.shape.roll + np.pi))
        mesh = tank_mesh(over)
        ports = {port.name: _refitted(mesh, port) for port in tank.ports.values()}
        moved = [port for port in ports if ports[port].at != tank.ports[port].at]
        yield Proposal(
            change=f"{name} turned over, its legs up"
            + (f", {' and '.join(moved)} moved to its new top" if moved else ""),
            costs="the tank made anew, or its ports closed and others fitted",
            layout=cut_anew(
                replace(layout, tanks={**layout.tanks, name: replace(over, ports=ports)}), name
            ),
            aims=AIMS,
        )


def _pockets(case: Computed) -> Iterator[_Pocket]:
    flight, layout, survey = case.flight, case.layout, case.survey
    if isinstance(flight, NotComputed):
        return
    for left in flight.pockets:
        tank = layout.tanks[left.tank]
        found = _feed_of(layout, survey, left.tank)
        if found is not None:
            port, feed = found
            mesh = tank_mesh(tank)
            end = opening_of(port, mesh, span(mesh, LEVEL), USUAL_BORE, np.array([LEVEL])).point[0]
            yield _Pocket(tank, port, feed, _floor(tank, _vector(end)), _floor(tank, left.at))


def _feed_of(layout: Layout, survey: Survey, tank: str) -> tuple[Port, Line] | None:
    """Port by which a tank feeds, and the line on it, written from there."""
    for name in survey.feed_ports(tank):
        end = f"{tank}.{name}"
        for line in layout.lines.values():
            if end in (line.from_, line.to):
                way = line if line.from_ == end else written_back(line)
                return layout.tanks[tank].ports[name], way
    return None


def _floor(tank: Tank, point: Vector) -> Vector:
    """Middle of the floor of the pocket under a point, aircraft level."""
    mesh, down, first = tank_mesh(tank), np.array([LEVEL]), np.zeros(1, np.intp)
    found = room_of(tank).pockets(down)
    own = np.ones(len(mesh.vertices), dtype=bool)
    corners = mesh.vertices
    if found is not None:
        basin = found.tree.basin_at(np.array([point]), first, _NEAR)
        corners, own = found.tree.mesh.vertices, found.tree.of[0] == basin[0]
    lowest = corners[own][:, 2].min()
    flat = corners[own & (corners[:, 2] <= lowest + _FLOOR)]
    middle = flat.mean(axis=0)
    there = contains(mesh, middle[None])[0] or surface_distance(mesh, middle[None])[0] <= _NEAR
    return _vector(middle if there else flat[0])


def _lid_over(mesh: Mesh, point: Vector) -> Vector:
    """Where the roof stands straight over a point."""
    up = np.array([[0.0, 0.0, 1.0]])
    face = int(face_below(mesh, np.array([point]), up, -_NEAR)[0])
    if face < 0:
        return point
    first, second, third = mesh.vertices[mesh.faces[face]]
    normal = np.cross(second - first, third - first)
    rise = float(normal @ (first - np.array(point))) / float(normal[2])
    return (point[0], point[1], point[2] + rise)


def _tee_at(
    feed: Line, one: Vector, other: Vector, lid: float
) -> tuple[Vector, tuple[Vector, ...]]:
    """Place of a tee over the lid between two ports, and the rest of the feed line's route."""
    tops = [point[2] for point in feed.route[:1]]
    at = (0.5 * (one[0] + other[0]), 0.5 * (one[1] + other[1]), max(lid + _OVER, *tops, lid))
    return at, feed.route[1:]


def _refitted(mesh: Mesh, port: Port) -> Port:
    """A port of a turned tank: where it was if the tank is still there, else at its nearest top."""
    if surface_distance(mesh, np.array([port.at]))[0] <= _NEAR:
        return port
    top = mesh.vertices[mesh.vertices[:, 2] >= mesh.bounds[1][2] - _FLOOR]
    at = _vector(top[np.linalg.norm(top - np.array(port.at), axis=1).argmin()])
    return replace(port, at=at, opens_at=None)


def _with(layout: Layout, tank: Tank, lines: dict[str, Line]) -> Layout:
    """The layout with another form of a tank, and with some lines more or changed."""
    tanks, all_lines = {**layout.tanks, tank.name: tank}, {**layout.lines, **lines}
    return replace(layout, tanks=tanks, lines=all_lines)


def _vector(point: Array) -> Vector:
    x, y, z = point.tolist()
    return x, y, z
