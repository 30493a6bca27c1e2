"""What is to be seen in an elevation, in aircraft axes: solids, runs, markers."""

from dataclasses import field

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.outline import silhouette
from plumbing.geometry.route import filleted, sampled
from plumbing.geometry.surface import surface
from plumbing.geometry.swept import Motion, meshes
from plumbing.model.layout import Layout, port_position, split_port
from plumbing.model.line import Line
from plumbing.model.meshes import tank_mesh
from plumbing.model.structure import Former, Run, Zone
from plumbing.model.tank import Tank
from plumbing.network.airframe import airframe
from plumbing.network.room import body_of, zone_motion
from plumbing.network.space import Thing, parts
from plumbing.physics.arrays import Array


@frozen(eq=False)
class Solid:
    """Something with an outline in the view's plane.

    Attributes
    ----------
    name, kind : str
        Name; `tank`, `header`, `zone`, `airframe`, `former`, `body`, or `assumed`: a body of an
        assumed size.
    loops : list of Array
        Outlines [m], shape (N, 2) each, filled together by the non-zero rule.
    note : str
        Kind of a zone, data of a tank.
    ends : list of Array
        Outlines at both ends of its way, of something that moves.
    """

    name: str
    kind: str
    loops: list[Array]
    note: str = ""
    ends: list[Array] = field(default_factory=list)


def tank_solid(tank: Tank, axes: Array) -> Solid:
    """Outline of a tank."""
    kind = "header" if tank.role == "header" else "tank"
    return Solid(tank.name, kind, silhouette(tank_mesh(tank), axes))


def part_solid(thing: Thing, axes: Array, stated: bool) -> Solid:
    """Outline of a part's body, of the size that is stated or assumed."""
    loops = silhouette(surface(thing.body), axes)
    return Solid(thing.name, "body" if stated else "assumed", loops)


def zone_mesh(zone: Zone, motion: Motion | None = None) -> Mesh:
    """Surface of a zone in each place of a motion; by default every few degrees of its own."""
    still = surface(body_of(zone.body), flat_ends=isinstance(zone.body, Run))
    return meshes(still, motion or zone_motion(zone).seen)


def zone_solid(zone: Zone, axes: Array) -> Solid:
    """Outline of a zone, with what it sweeps."""
    loops, ends = silhouette(zone_mesh(zone), axes), []
    motion = zone_motion(zone)
    if len(motion.shifts) > 1:
        ends = silhouette(zone_mesh(zone, motion.ends), axes)
    return Solid(zone.name, "zone", loops, zone.kind, ends)


def former_solid(former: Former, axes: Array) -> Solid:
    """A former or rib: a thin plate seen on edge or face on."""
    flat = former_corners(former) @ axes.T
    low, high = flat.min(axis=0), flat.max(axis=0)
    half = former.thickness / 2
    on_edge = high - low < 1e-9
    if on_edge.any():
        low, high = low - half * on_edge, high + half * on_edge
        flat = np.array([low, [high[0], low[1]], high, [low[0], high[1]]])
    return Solid(former.name, "former", [flat], note="firewall" if former.firewall else "")


def former_corners(former: Former) -> Array:
    """Corners of a former's outline in aircraft axes [m], shape (N, 3); the passages' if none."""
    corners = former.outline or tuple(hole.at for hole in former.passages.values())
    return np.array([on_former(former, corner) for corner in corners]).reshape(-1, 3)


def on_former(former: Former, corner: tuple[float, float]) -> tuple[float, float, float]:
    """A point of a former's plane in aircraft axes [m]."""
    first, second = corner
    if former.across == "x":
        return former.station, first, second
    return first, former.station, second


def line_run(layout: Layout, line: Line) -> Array:
    """Points along a line with its bends [m], shape (N, 3)."""
    ends = []
    for reference in (line.from_, line.to):
        part, port = split_port(reference)
        ends.append(port_position(layout.part(part), port))
    points = np.array([ends[0], *line.route, ends[1]])
    keep = np.concatenate([[True], np.linalg.norm(np.diff(points, axis=0), axis=1) > 1e-6])
    if keep.sum() < 2:
        return points[:1]
    radius = line.bend_radius or layout.tube_of(line).bend_radius or 0.0
    step = max(0.01, float(np.ptp(points, axis=0).max()) / 500)
    return sampled(filleted(points[keep], radius), step)


@frozen(eq=False)
class Scene:
    """Everything in a view.

    Attributes
    ----------
    solids : list of Solid
        Formers, zones, bodies of parts and tanks, in drawing order.
    runs : dict of str to Array
        Points along each line in the view's plane [m], shape (N, 2).
    """

    solids: list[Solid]
    runs: dict[str, Array]

    def extent(self, layout: Layout, axes: Array) -> Array:
        """All points that must be on the sheet [m], shape (N, 2)."""
        points = [loop for solid in self.solids for loop in solid.loops]
        points += list(self.runs.values())
        places = [port for part in layout.parts() for port in _places(part)]
        places += _aircraft(layout)
        if places:
            points.append(np.array(places) @ axes.T)
        return np.concatenate(points) if points else np.zeros((1, 2))


def _places(part: object) -> list[tuple[float, float, float]]:
    places = [getattr(part, name, None) for name in ("at", "exhaust", "intake")]
    return [place for place in places if place is not None]


def _aircraft(layout: Layout) -> list[tuple[float, float, float]]:
    cg, limits = layout.aircraft.dry_cg, layout.aircraft.cg_limits
    points = [cg] if cg else []
    y, z = (cg[1], cg[2]) if cg else (0.0, 0.0)
    return points + [(x, y, z) for x in limits or ()]


def scene(layout: Layout, axes: Array) -> Scene:
    """Gather what a view shows."""
    formers = [
        former_solid(former, axes)
        for former in layout.formers.values()
        if former.outline or former.passages
    ]
    zones = [zone_solid(zone, axes) for zone in layout.zones.values()]
    bodies = [
        part_solid(thing, axes, getattr(layout.part(thing.name), "body", None) is not None)
        for thing in parts(layout)
    ]
    tanks = [tank_solid(tank, axes) for tank in layout.tanks.values()]
    room = airframe(layout)
    skin = [] if room is None else [Solid("airframe", "airframe", silhouette(room, axes))]
    runs = {name: line_run(layout, line) @ axes.T for name, line in layout.lines.items()}
    return Scene([*skin, *formers, *zones, *bodies, *tanks], runs)
