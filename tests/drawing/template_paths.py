"""Strokes and outlines of drawings, read back from the files in millimetres on paper."""

import re
from collections.abc import Iterator
from io import BytesIO
from typing import Any, NamedTuple
from xml.etree import ElementTree

import numpy as np
from pypdf import PdfReader
from pypdf.generic import ContentStream

_POINT = 25.4 / 72.0  # a PDF point [mm]


class Box(NamedTuple):
    """Box round a stroked path on paper [mm], counted from the lower left corner."""

    left: float
    low: float
    right: float
    high: float

    @property
    def wide(self) -> float:
        """Width [mm]."""
        return self.right - self.left

    @property
    def tall(self) -> float:
        """Height [mm]."""
        return self.high - self.low

    @property
    def middle(self) -> tuple[float, float]:
        """Middle [mm]."""
        return 0.5 * (self.left + self.right), 0.5 * (self.low + self.high)


def pdf_boxes(content: bytes) -> list[list[Box]]:
    """Boxes round all stroked paths of each page, from the operators and transforms themselves."""
    reader = PdfReader(BytesIO(content))
    return [list(_boxes(page, page.get_contents(), reader, np.eye(3))) for page in reader.pages]


def _boxes(owner: Any, stream: Any, reader: PdfReader, ctm: np.ndarray) -> Iterator[Box]:
    stack: list[np.ndarray] = []
    path: list[tuple[float, float]] = []
    for operands, operator in ContentStream(stream, reader).operations:
        name = operator.decode()
        if name == "q":
            stack.append(ctm)
        elif name == "Q":
            ctm = stack.pop()
        elif name == "cm":
            ctm = _matrix(operands) @ ctm
        elif name == "Do":
            form = owner["/Resources"]["/XObject"][operands[0]].get_object()
            if form["/Subtype"] == "/Form":
                inner = _matrix(form.get("/Matrix", (1, 0, 0, 1, 0, 0))) @ ctm
                yield from _boxes(form, form, reader, inner)
        elif name in _ENDS:
            if name in ("S", "s") and path:
                yield _box(path, ctm)
            path = []
        else:
            path += _points(name, operands)


_ENDS = ("S", "s", "B", "b", "f", "F", "f*", "n")


def _matrix(values: Any) -> np.ndarray:
    """Matrix of six PDF numbers, for row vectors."""
    a, b, c, d, e, f = (float(value) for value in values)
    return np.array([[a, b, 0.0], [c, d, 0.0], [e, f, 1.0]])


def _points(name: str, operands: Any) -> list[tuple[float, float]]:
    """Points a path operator reaches; the ends of curves are enough for quarters of a circle."""
    if name in ("m", "l", "c", "v", "y"):
        return [(float(operands[-2]), float(operands[-1]))]
    if name == "re":
        x, y, w, h = (float(value) for value in operands)
        return [(x, y), (x + w, y + h)]
    return []


def _box(path: list[tuple[float, float]], ctm: np.ndarray) -> Box:
    points = np.column_stack([np.array(path), np.ones(len(path))]) @ ctm * _POINT
    low, high = points[:, :2].min(axis=0), points[:, :2].max(axis=0)
    return Box(float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def svg_circles(text: str, kind: str) -> list[tuple[float, float, float]]:
    """Centre and diameter of circles in groups of one class, moved as their parents are [mm]."""
    root = ElementTree.fromstring(text)
    assert root.get("width", "").endswith("mm")
    scale = float(root.get("width", "0mm")[:-2]) / float(root.get("viewBox", "").split()[2])
    found = []

    def walk(node: ElementTree.Element, x: float, y: float, wanted: bool) -> None:
        moved = re.match(r"translate\(([-\d.]+) ([-\d.]+)\)$", node.get("transform", ""))
        x, y = (x + float(moved[1]), y + float(moved[2])) if moved else (x, y)
        wanted = wanted or node.get("class") == kind
        if wanted and node.tag.endswith("circle") and node.get("fill") == "none":
            at = (x + float(node.get("cx", "0"))) * scale, (y + float(node.get("cy", "0"))) * scale
            found.append((*at, 2.0 * float(node.get("r", "0")) * scale))
        for child in node:
            walk(child, x, y, wanted)

    walk(root, 0.0, 0.0, False)
    return found
