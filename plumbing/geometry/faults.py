"""What is wrong with a mesh, in plain words."""

import numpy as np

from plumbing.geometry.crossing import self_crossing
from plumbing.geometry.mesh import Mesh, face_normals
from plumbing.physics.arrays import Array

SMALLEST, LARGEST = 2e-3, 5.0  # edges of a model aircraft's tank [m]: a common-practice bound
MOST_FACES = 50_000  # a check of so many takes some 20 s


def faults_of(mesh: Mesh) -> list[str]:
    """Reasons why a mesh cannot stand for a tank; none if it can.

    Parameters
    ----------
    mesh : Mesh
        Triangles with shared vertices; join torn ones first (`welded`).

    Returns
    -------
    list of str
        One plain sentence part each, in the order they were looked for. The later tests are
        left out where an earlier fault makes them meaningless.
    """
    count = len(mesh.faces)
    if count < 4:
        return [f"it has {count} triangles; a closed solid needs at least 4"]
    if count > MOST_FACES:
        return [f"it has {count} triangles; at most {MOST_FACES} are read, so export it coarser"]
    if not np.isfinite(mesh.vertices).all():
        return ["it has corners that are not numbers"]
    if mesh.faces.min() < 0 or mesh.faces.max() >= len(mesh.vertices):
        return ["its triangles name corners that do not exist"]
    reasons = _size_faults(mesh)
    edges = _edge_faults(mesh)
    if edges:
        return reasons + edges
    volume, box = mesh.volume, float(np.prod(mesh.size))
    if abs(volume) <= 1e-9 * box or box == 0.0:
        return [*reasons, "it encloses no volume"]
    if volume < 0.0:
        reasons.append("it is inside out: its triangles face inwards")
    crossing = self_crossing(mesh)
    if crossing is None:
        reasons.append("too many of its triangles overlap to search it for crossings")
    elif len(crossing):
        reasons.append(f"it crosses itself {_near(crossing[0])}")
    return reasons


def _size_faults(mesh: Mesh) -> list[str]:
    """Absurd scale and triangles without area."""
    reasons = []
    longest, shortest = float(mesh.size.max()), float(mesh.size.min())
    if longest > LARGEST:
        reasons.append(f"it is {longest:.3g} m long; is its unit right?")
    elif longest < SMALLEST:
        reasons.append(f"it is only {longest * 1e3:.3g} mm long; is its unit right?")
    elif shortest < 1e-6 * longest:
        reasons.append("it is flat")
    area = np.linalg.norm(face_normals(mesh), axis=1)
    empty = int(np.count_nonzero(area <= 1e-14 * longest**2))
    if empty:
        reasons.append(f"{empty} of its {len(mesh.faces)} triangles have no area")
    return reasons


def _edge_faults(mesh: Mesh) -> list[str]:
    """Edges that are open, shared by more than two triangles, or run twice the same way."""
    edges = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    key = np.sort(edges, axis=1)
    forward = edges[:, 0] < edges[:, 1]
    pairs, place, uses = np.unique(key, axis=0, return_inverse=True, return_counts=True)
    ways = np.bincount(place.ravel(), weights=np.where(forward, 1.0, -1.0))
    middles = mesh.vertices[pairs].mean(axis=1)
    lone, crowded = middles[uses == 1], middles[uses > 2]
    reasons = []
    if len(lone):
        where = f"the first {_near(lone[0])}"
        reasons.append(f"it is not closed: {len(lone)} edges belong to one triangle only, {where}")
    if len(crowded):
        where = f"the first {_near(crowded[0])}"
        reasons.append(f"{len(crowded)} edges belong to more than two triangles, {where}")
    if not reasons and np.any(ways != 0.0):
        reasons.append(
            f"neighbouring triangles face opposite ways {_near(middles[ways != 0.0][0])}"
        )
    return reasons


def _near(point: Array) -> str:
    x, y, z = (f"{1e3 * value:.4g}" for value in point.tolist())
    return f"near x {x}, y {y}, z {z} mm of its own axes"
