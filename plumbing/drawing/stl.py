"""Solids as binary STL, in millimetres: every slicer and CAD program takes them for such."""

import numpy as np

from plumbing.drawing.sheet import MARK
from plumbing.geometry.mesh import Mesh, face_normals

MM = 1e3
_HEAD = 80  # bytes
_TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])


def stl(mesh: Mesh) -> bytes:
    """A mesh [m] as the bytes of an STL file [mm]; same mesh, same bytes."""
    normals = face_normals(mesh)
    size = np.linalg.norm(normals, axis=1, keepdims=True)
    rows = np.zeros(len(mesh.faces), _TRIANGLE)
    rows["normal"] = normals / np.where(size > 0.0, size, 1.0)
    rows["corners"] = np.round(MM * mesh.vertices, 6)[mesh.faces]
    return MARK.encode().ljust(_HEAD, b" ") + len(rows).to_bytes(4, "little") + rows.tobytes()
