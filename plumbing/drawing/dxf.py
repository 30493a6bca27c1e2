"""A template as DXF, in millimetres, for a laser or a mill."""

from __future__ import annotations

from io import SEEK_END, StringIO
from typing import Any

from plumbing.drawing.plate import Plate
from plumbing.drawing.sheet import MARK
from plumbing.drawing.template import BAR

_LAYERS = {
    "OUTLINE": 7,
    "HOLES": 1,
    "CENTRES": 3,
    "DATUM": 5,
    "KEEP_CLEAR": 6,
    "BARS": 4,
    "TEXT": 8,
}
_TEXT = 3.0  # height [mm]


def plate_dxf(plate: Plate) -> str:
    """Write a template as DXF R2010.

    Parameters
    ----------
    plate : Plate
        The former.

    Returns
    -------
    str
        DXF text; one drawing unit is a millimetre, the origin is the layout's own, across and z.
        What is to be cut stands on the layers OUTLINE and HOLES alone.
    """
    import ezdxf  # slow to import; only DXF needs it
    from ezdxf import units

    ezdxf.options.write_fixed_meta_data_for_testing = True  # same former, same bytes
    made = ezdxf.new("R2010")
    made.units = units.MM
    for name, colour in _LAYERS.items():
        made.layers.add(name, color=colour)
    space = made.modelspace()
    if plate.outline:
        space.add_lwpolyline(plate.outline, close=True, dxfattribs={"layer": "OUTLINE"})
    for one, other in plate.keep_clear:
        corners = [one, (other[0], one[1]), other, (one[0], other[1])]
        space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "KEEP_CLEAR"})
    for hole in plate.holes:
        radius, (x, y) = 0.5 * hole.diameter, hole.at
        space.add_circle(hole.at, radius, dxfattribs={"layer": "HOLES"})
        _cross(space, x, y, radius + 3.0, "CENTRES")
        words = f"{hole.number} {hole.name} %%c{hole.diameter:g}"
        _write(space, words, x + radius + 2.0, y + radius + 2.0)
    _cross(space, *plate.datum, 5.0, "DATUM")
    datum = f"datum, no hole: {plate.axis} {plate.datum[0]:g}, z {plate.datum[1]:g}"
    _write(space, datum, plate.datum[0] + 2.0, plate.datum[1] - 6.0)
    _bars(space, plate)
    out = StringIO(f"999\n{MARK}\n")
    out.seek(0, SEEK_END)
    made.write(out)
    return out.getvalue()


def _cross(space: Any, x: float, y: float, reach: float, layer: str) -> None:
    for dx, dy in ((reach, 0.0), (0.0, reach)):
        space.add_line((x - dx, y - dy), (x + dx, y + dy), dxfattribs={"layer": layer})


def _bars(space: Any, plate: Plate) -> None:
    """Bars of 100 mm across and up, below and left of the former."""
    x, y = plate.low[0], plate.low[1] - 15.0
    space.add_line((x, y), (x + BAR, y), dxfattribs={"layer": "BARS"})
    _write(space, "100 mm: measure this bar before drilling", x, y - 6.0)
    _write(space, f"{plate.name}: {plate.seen}", x, y - 12.0)
    x, y = plate.low[0] - 10.0, plate.low[1]
    space.add_line((x, y), (x, y + BAR), dxfattribs={"layer": "BARS"})


def _write(space: Any, words: str, x: float, y: float) -> None:
    """A text as plain as DXF can hold: no codes of the file's own making."""
    head, mark, tail = words.rpartition("%%c")
    plain = "".join(ch if ch not in "%^\\{}" else " " for ch in (head if mark else tail))
    text = f"{plain}{mark}{tail}" if mark else plain
    space.add_text(text, height=_TEXT, dxfattribs={"layer": "TEXT"}).set_placement((x, y))
