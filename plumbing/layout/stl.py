"""Solids drawn as meshes: STL files beside the layout file."""

import io
import logging
from dataclasses import replace
from typing import TypeVar

import numpy as np

from plumbing.geometry.faults import MOST_FACES, faults_of
from plumbing.geometry.mesh import Mesh, mesh_of, welded
from plumbing.layout import nearby
from plumbing.layout.content import content_of
from plumbing.layout.gathering import Faults, quoted
from plumbing.model import tank as model

Filled = TypeVar("Filled", bound=object)
MOST_BYTES = 20 * 1024 * 1024
UNITS = {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254}
JOINED = 1e-6  # corners nearer than this are one [m]


def filled(shape: Filled, folder: str, faults: Faults) -> Filled:
    """Shape with the triangles of its mesh file, where it has one.

    Parameters
    ----------
    shape : any shape
        Others than meshes come back as they are.
    folder : str
        Folder of the layout file; the mesh must be in it or below.
    faults : Faults
        Receives why a mesh cannot be used.
    """
    if not isinstance(shape, model.Mesh):
        return shape
    place = shape.place_of("file")
    path = nearby.path_of(shape.file, folder, ".stl", place, faults)
    if path is None:
        return shape
    content = _content(path)
    if len(content) > MOST_BYTES:
        most = f"{MOST_BYTES // 1024**2} MB"
        faults.add(place, f"{quoted(shape.file)} of more than {most}", f"a mesh of at most {most}")
        return shape
    mesh = _read(content, UNITS[shape.unit])
    if mesh is None:
        found = f"{quoted(shape.file)}, which cannot be read"
        faults.add(place, found, "an STL file, binary or text")
        return shape
    reasons = faults_of(mesh)
    for reason in reasons:
        faults.add(place, f"{quoted(shape.file)}: {reason}", "a closed mesh in the unit stated")
    if reasons:
        return shape
    vertices = tuple((x, y, z) for x, y, z in mesh.vertices.tolist())
    faces = tuple((a, b, c) for a, b, c in mesh.faces.tolist())
    return replace(shape, vertices=vertices, faces=faces)


def _content(path: str) -> bytes:
    """Bytes of a file; none where it cannot be read."""
    try:
        return content_of(path, MOST_BYTES)
    except OSError:
        return b""


def _read(content: bytes, scale: float) -> Mesh | None:
    """Triangles of an STL file in metres, facing out; None where there are none."""
    from trimesh.exchange import stl  # slow to import, and needed for meshes only

    logging.getLogger("trimesh").addHandler(logging.NullHandler())  # what it met is said by us
    try:
        if _is_binary(content):
            found = stl.load_stl_binary(io.BytesIO(content))
        else:
            found = stl.load_stl_ascii(io.StringIO(content.decode("utf-8")))
        vertices = np.asarray(found["vertices"], float).reshape(-1, 3) * scale
        faces = np.asarray(found["faces"], dtype=np.intp).reshape(-1, 3)
    except (stl.HeaderError, ValueError, TypeError, KeyError, IndexError, MemoryError):
        return None
    if not len(faces) or not np.isfinite(vertices).all() or np.abs(vertices).max() > 1e6:
        return None
    if len(faces) > MOST_FACES:
        return Mesh(vertices, faces)  # its fault is that it is too large
    mesh = welded(vertices, faces, JOINED)
    return mesh_of(mesh.vertices, mesh.faces) if len(mesh.faces) else None


def _is_binary(content: bytes) -> bool:
    """Whether the length is what the count of triangles in a binary file's head says."""
    count = int.from_bytes(content[80:84], "little")
    return len(content) == 84 + 50 * count
