"""The room that things of a layout take up, as bodies in space."""

from functools import lru_cache

import numpy as np

from plumbing.geometry.attitude import rotation
from plumbing.geometry.bodies import Body, cylinder, solid, tube
from plumbing.geometry.mesh import mesh_of
from plumbing.geometry.route import filleted, sampled, shortened
from plumbing.geometry.solids import prism
from plumbing.geometry.swept import STILL, Motion, swept, swing
from plumbing.layout import usual
from plumbing.model import tank as model
from plumbing.model.engine import Engine
from plumbing.model.fields import Vector
from plumbing.model.layout import Part
from plumbing.model.meshes import solid_mesh
from plumbing.model.parts import Connector, Filter, Pump, Tee, Valve
from plumbing.model.structure import Disc, Run, Swing, Zone
from plumbing.model.tank import Corner, Tank
from plumbing.physics.arrays import Array

_TURN = 0.1  # between two points of a bend [rad]: a chord is off by 0.1 % of the radius
_CACHED = 1024


@lru_cache(maxsize=_CACHED)
def tube_body(
    points: tuple[Vector, ...], bend: float, radius: float, start: float = 0.0, end: float = 0.0
) -> Body:
    """A tube along points with rounded corners, without the first and the last of it [m]."""
    if len(points) < 2:
        return tube(points, radius)
    chain = sampled(filleted(points, bend), np.inf, _TURN)
    return tube(shortened(chain, start, end) if start or end else chain, radius)


@lru_cache(maxsize=_CACHED)
def body_of(shape: model.Solid | Disc | Run, wall: float = 0.0) -> Body:
    """Body of a shape, drawn out all round by a wall [m]."""
    if isinstance(shape, Run):
        return tube(shape.points, 0.5 * shape.diameter + wall)
    if isinstance(shape, Disc):
        return cylinder(shape.at, _axis(shape.axis), 0.0, shape.radius, wall)
    turn = rotation(shape.roll, shape.pitch, shape.yaw)
    if isinstance(shape, model.Cylinder):
        along = turn @ _axis(shape.axis)
        return cylinder(shape.at, along, shape.length, 0.5 * shape.diameter, wall)
    if isinstance(shape, model.Capsule):
        along = 0.5 * max(shape.length - shape.diameter, 0.0) * (turn @ _axis(shape.axis))
        return tube(np.array(shape.at) + np.stack([-along, along]), 0.5 * shape.diameter + wall)
    return solid(solid_mesh(shape), wall)


def zone_body(zone: Zone) -> Body:
    """Body of a zone, with all that it sweeps."""
    return _zone_body(zone.body, zone.swings, zone.slides)


@lru_cache(maxsize=_CACHED)
def _zone_body(shape: model.Solid | Disc | Run, turn: Swing | None, slide: Vector | None) -> Body:
    body = body_of(shape)
    return swept(body, _motion(turn, slide)) if turn or slide else body


def zone_motion(zone: Zone) -> Motion:
    """Places that a zone goes through; one where it stays."""
    return _motion(zone.swings, zone.slides)


def _motion(turn: Swing | None, slide: Vector | None) -> Motion:
    way = swing(np.array(turn.about), _axis(turn.axis), turn.by) if turn else STILL
    return way.then(np.array(slide)) if slide else way


def _axis(name: str) -> Array:
    axis: Array = np.eye(3)["xyz".index(name)]
    return axis


def tank_body(tank: Tank) -> Body:
    """A tank with its wall."""
    stated = tank.wall.thickness if tank.wall else None
    return body_of(tank.shape, usual.WALL if stated is None else stated)


def part_body(part: Part) -> Body | None:
    """Body of a part; None for what is only an opening and for an engine without a place."""
    if isinstance(part, Engine):
        return _engine_body(part)
    if not isinstance(part, Tee | Filter | Pump | Valve | Connector):
        return None
    if part.body is not None:
        return body_of(part.body)
    return tube(part.at, 0.5 * usual.WIDTHS[type(part)])


def _engine_body(engine: Engine) -> Body | None:
    if engine.body is not None:
        return body_of(engine.body)
    width = usual.engine_width(engine)
    if width is None:
        return None
    ends = np.array([engine.intake, engine.exhaust], float)
    length = float(np.linalg.norm(ends[1] - ends[0]))
    if length == 0.0:
        return None
    return cylinder(ends.mean(axis=0), (ends[1] - ends[0]) / length, length, 0.5 * width)


@lru_cache(maxsize=_CACHED)
def plate_body(outline: tuple[Corner, ...], station: float, thick: float, across: str) -> Body:
    """A former or a rib as a plate [m]."""
    faces = station + np.array([-0.5, 0.5]) * thick
    mesh = prism(faces, [outline, outline])
    if across == "y":
        mesh = mesh_of(mesh.vertices[:, [1, 0, 2]], mesh.faces)
    return solid(mesh)
