"""Solids as closed meshes in aircraft axes: the one door from the layout to geometry."""

import numpy as np

from plumbing.geometry import solids
from plumbing.geometry.attitude import rotation
from plumbing.geometry.mesh import Mesh, centred, mesh_of, transformed
from plumbing.model import tank as model


def solid_mesh(shape: model.Solid) -> Mesh:
    """Solid as a closed mesh [m], turned and placed in the aircraft."""
    mesh = centred(_drawn(shape))
    return transformed(mesh, rotation(shape.roll, shape.pitch, shape.yaw), shape.at)


def _drawn(shape: model.Solid) -> Mesh:
    match shape:
        case model.Box():
            return solids.box(shape.size)
        case model.Cylinder():
            return solids.cylinder(shape.length, shape.diameter, shape.axis)
        case model.Capsule():
            return solids.capsule(shape.length, shape.diameter, shape.axis)
        case model.Ellipsoid():
            return solids.ellipsoid(shape.size)
        case model.Prism():
            stations = [section.station for section in shape.sections]
            return solids.prism(stations, [section.outline for section in shape.sections])
        case model.Mesh():
            return mesh_of(np.array(shape.vertices), np.array(shape.faces))
        case _:
            raise TypeError(f"a solid of an unknown kind: {type(shape).__name__}")


def tank_mesh(tank: model.Tank) -> Mesh:
    """Inner solid of a tank as a closed mesh [m] in aircraft axes."""
    return solid_mesh(tank.shape)
