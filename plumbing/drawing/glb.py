"""Solids as binary glTF 2.0: one named node each, in groups that a viewer can hide.

Lengths are metres. The file keeps aircraft axes; its root turns z up to the y up of the format.
"""

import json
from collections.abc import Iterable
from typing import Any

import numpy as np

from plumbing.drawing.sheet import MARK
from plumbing.drawing.spatial import KINDS, Shown
from plumbing.drawing.text import clean

_Z_UP = [-(0.5**0.5), 0.0, 0.0, 0.5**0.5]  # quaternion: a quarter turn about x
_FLOAT, _SHORT, _LONG = 5126, 5123, 5125
_MOST_SHORT = 65_535  # corners that short numbers can tell apart
_CORNERS, _FACES = 34962, 34963
_JSON, _BIN = b"JSON", b"BIN\x00"


def glb(solids: Iterable[Shown], title: str) -> bytes:
    """Solids as the bytes of a .glb file; same solids, same bytes.

    Parameters
    ----------
    solids : iterable of Shown
        What to write.
    title : str
        Name of the root node.
    """
    file = _File(clean(title))
    for shown in solids:
        file.add(shown)
    return file.written()


class _File:
    """The parts of a file as they are gathered."""

    def __init__(self, title: str) -> None:
        self.data = bytearray()
        self.nodes: list[dict[str, Any]] = [{"name": title, "rotation": _Z_UP, "children": []}]
        self.meshes: list[dict[str, Any]] = []
        self.views: list[dict[str, Any]] = []
        self.accessors: list[dict[str, Any]] = []
        self.materials: dict[tuple[str, float], dict[str, Any]] = {}
        self.groups: dict[str, list[int]] = {group: [] for group in KINDS}

    def add(self, shown: Shown) -> None:
        """Add a solid as a node of its group."""
        look = shown.colour, shown.opacity
        self.materials.setdefault(look, _material(*look))
        points = np.round(shown.mesh.vertices, 9).astype("<f4")
        corners = self._put(points, _CORNERS, "VEC3", _FLOAT)
        self.accessors[corners] |= {
            "min": points.min(axis=0).tolist(),
            "max": points.max(axis=0).tolist(),
        }
        short = len(points) <= _MOST_SHORT
        faces = shown.mesh.faces.astype("<u2" if short else "<u4").ravel()
        surface = {
            "attributes": {"POSITION": corners},
            "indices": self._put(faces, _FACES, "SCALAR", _SHORT if short else _LONG),
            "material": list(self.materials).index(look),
        }
        self.groups[shown.group].append(len(self.nodes))
        self.nodes.append(
            {
                "name": shown.name,
                "mesh": len(self.meshes),
                "extras": {"words": shown.words, "row": shown.row},
            }
        )
        self.meshes.append({"name": shown.name, "primitives": [surface]})

    def _put(self, values: Any, target: int, form: str, kind: int) -> int:
        """Append values to the data, and give the number of their accessor."""
        content = values.tobytes()
        self.views.append(
            {
                "buffer": 0,
                "byteOffset": len(self.data),
                "byteLength": len(content),
                "target": target,
            }
        )
        self.data += content + bytes(-len(content) % 4)
        self.accessors.append(
            {
                "bufferView": len(self.views) - 1,
                "componentType": kind,
                "count": len(values),
                "type": form,
            }
        )
        return len(self.accessors) - 1

    def written(self) -> bytes:
        """All of it as bytes."""
        for group, children in self.groups.items():
            if children:
                self.nodes[0]["children"].append(len(self.nodes))
                self.nodes.append({"name": group, "children": children})
        content = {
            "asset": {"version": "2.0", "generator": MARK},
            "scene": 0,
            "scenes": [{"nodes": [0]}],
            "nodes": self.nodes,
            "meshes": self.meshes,
            "materials": list(self.materials.values()),
            "accessors": self.accessors,
            "bufferViews": self.views,
            "buffers": [{"byteLength": len(self.data)}],
        }
        text = json.dumps(content, separators=(",", ":")).encode()
        body = _chunk(_JSON, text.ljust(-len(text) % 4 + len(text))) + _chunk(_BIN, self.data)
        return b"glTF" + (2).to_bytes(4, "little") + (12 + len(body)).to_bytes(4, "little") + body


def _chunk(kind: bytes, content: bytes | bytearray) -> bytes:
    return len(content).to_bytes(4, "little") + kind + content


def _material(colour: str, opacity: float) -> dict[str, Any]:
    """A dull paint; the format has colours as shares of light, not as a screen has them."""
    screen = np.array([int(colour[k : k + 2], 16) for k in (1, 3, 5)]) / 255.0
    light = np.where(screen <= 0.04045, screen / 12.92, ((screen + 0.055) / 1.055) ** 2.4)
    dull = {
        "baseColorFactor": [*np.round(light, 6).tolist(), opacity],
        "metallicFactor": 0.0,
        "roughnessFactor": 0.8,
    }
    return {"pbrMetallicRoughness": dull, "alphaMode": "BLEND" if opacity < 1.0 else "OPAQUE"}
