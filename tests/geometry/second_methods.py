"""Volumes and centres below a level by methods that share nothing with the program's."""

import numpy as np


def by_tetrahedra(mesh, down, level):
    """Volume and first moment of a mesh below a level: clip each face, sum cones from the surface.

    Every clipped face is the base of a cone whose tip lies in the free surface; the free surface
    itself then adds nothing.
    """
    tip = -np.asarray(down) * level
    heights = -(mesh.vertices @ down)
    volume, moment = 0.0, np.zeros(3)
    for face in mesh.faces:
        outline = []
        for a, b in zip(face, np.roll(face, -1), strict=True):
            if heights[a] <= level:
                outline.append(mesh.vertices[a])
            if (heights[a] < level) != (heights[b] < level) and heights[a] != heights[b]:
                share = (level - heights[a]) / (heights[b] - heights[a])
                outline.append(mesh.vertices[a] + share * (mesh.vertices[b] - mesh.vertices[a]))
        for k in range(1, len(outline) - 1):
            arms = np.array([outline[0], outline[k], outline[k + 1]]) - tip
            cone = np.linalg.det(arms) / 6.0
            volume += cone
            moment += cone * (tip + arms.sum(axis=0) / 4.0)
    return volume, moment


def by_segments(stations, radius, down, level):
    """Volume and first moment of a body of revolution about x: circular segments, midpoint rule.

    Parameters are the ends of many thin slices, the radius as a function of x, a direction and a
    level. A segment below the chord at k radii from the centre has the area
    R2 (acos(-k) + k sqrt(1 - k2)) and the moment -2/3 R3 (1 - k2)^1.5 about the centre.
    """
    x = 0.5 * (stations[1:] + stations[:-1])
    thickness = np.diff(stations)
    r = radius(x)
    up = -np.asarray(down, float)
    across = np.hypot(up[1], up[2])
    sideways = np.array([0.0, up[1], up[2]]) / across
    k = np.clip((level - up[0] * x) / across / r, -1.0, 1.0)
    area = r**2 * (np.arccos(-k) + k * np.sqrt(1.0 - k**2)) * thickness
    lean = -2.0 / 3.0 * r**3 * (1.0 - k**2) ** 1.5 * thickness
    moment = np.array([(area * x).sum(), 0.0, 0.0]) + lean.sum() * sideways
    return area.sum(), moment
