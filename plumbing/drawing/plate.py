"""A former as flat work to be drilled: outline, holes and datum in millimetres, z up."""

import math

from plumbing.drawing.text import clean
from plumbing.errors import UsageError
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.structure import Former, Passage

MM = 1e3
LARGEST = 4000.0  # a page of a PDF may be 5 m long [mm]
_GRID = 10.0  # the datum cross stands at whole centimetres where zero is not on the former [mm]
_PAD = 30.0  # round the holes of a former without outline [mm]

Spot = tuple[float, float]


@frozen
class Hole:
    """One hole to drill.

    Attributes
    ----------
    number : int
        Its number on the template.
    name : str
        Name of the passage.
    at : tuple of float
        Centre, across and up [mm].
    diameter : float
        To drill [mm].
    grommet : float or None
        Wall of the grommet [mm].
    lines : tuple of str
        Lines that go through.
    """

    number: int
    name: str
    at: Spot
    diameter: float
    grommet: float | None
    lines: tuple[str, ...]


@frozen
class Plate:
    """One former, ready to be drawn full size.

    Attributes
    ----------
    name, title : str
        Former and layout.
    axis : str
        Letter of the axis across: y for a former, x for a rib.
    seen : str
        Where it is looked at from, in words.
    material : str
        Material and thickness.
    outline : tuple of points
        Corners [mm]; empty where the layout has none.
    keep_clear : tuple of (point, point)
        Boxes not to be drilled [mm].
    holes : tuple of Hole
        Holes.
    datum : tuple of float
        Where the datum cross stands [mm]; (0, 0) where that is on the former.
    origin : str
        Origin of the layout, in words.
    low, high : tuple of float
        Corners of the box round all of it [mm].
    """

    name: str
    title: str
    axis: str
    seen: str
    material: str
    outline: tuple[Spot, ...]
    keep_clear: tuple[tuple[Spot, Spot], ...]
    holes: tuple[Hole, ...]
    datum: Spot
    origin: str
    low: Spot
    high: Spot

    @property
    def size(self) -> Spot:
        """Width and height [mm]."""
        return self.high[0] - self.low[0], self.high[1] - self.low[1]


def plate_of(layout: Layout, former: Former) -> Plate:
    """Flat work of a former.

    Parameters
    ----------
    layout : Layout
        The layout.
    former : Former
        One of its formers, with an outline or at least one passage.

    Raises
    ------
    UsageError
        There is nothing to draw, or it is larger than a page can be.
    """
    holes = tuple(
        _hole(layout, former, passage, number)
        for number, passage in enumerate(former.passages.values(), start=1)
    )
    outline = tuple(_mm(corner) for corner in former.outline)
    low, high = _bounds(former.name, outline, holes)
    across_x = former.across == "x"
    return Plate(
        name=clean(former.name),
        title=clean(layout.title),
        axis="y" if across_x else "x",
        seen=(
            "seen from behind, looking forward; starboard is right"
            if across_x
            else "seen from the port side; aft is right"
        ),
        material=f"{former.thickness * MM:g} mm {former.material}",
        outline=outline,
        keep_clear=tuple((_mm(one), _mm(other)) for one, other in former.keep_clear),
        holes=holes,
        datum=(_datum(low[0], high[0]), _datum(low[1], high[1])),
        origin=clean(layout.origin),
        low=low,
        high=high,
    )


def _mm(point: Spot) -> Spot:
    return point[0] * MM, point[1] * MM


def _hole(layout: Layout, former: Former, passage: Passage, number: int) -> Hole:
    name = f"{former.name}.{passage.name}"
    return Hole(
        number=number,
        name=clean(passage.name),
        at=_mm(passage.at),
        diameter=passage.diameter * MM,
        grommet=None if passage.grommet is None else passage.grommet * MM,
        lines=tuple(clean(x.name) for x in layout.lines.values() if name in x.through),
    )


def _bounds(name: str, outline: tuple[Spot, ...], holes: tuple[Hole, ...]) -> tuple[Spot, Spot]:
    """Box round outline and holes [mm]."""
    spots = list(outline)
    pad = 0.0 if outline else _PAD
    for hole in holes:
        reach = 0.5 * hole.diameter + pad
        spots += [(x + s * reach, y + s * reach) for x, y in [hole.at] for s in (-1.0, 1.0)]
    if not spots:
        raise UsageError(f"former `{name}` has neither an outline nor a passage to draw")
    low = (min(x for x, _ in spots), min(y for _, y in spots))
    high = (max(x for x, _ in spots), max(y for _, y in spots))
    if max(high[0] - low[0], high[1] - low[1]) > LARGEST:
        raise UsageError(f"former `{name}` is larger than {LARGEST / MM:g} m: no page holds it")
    return low, high


def _datum(low: float, high: float) -> float:
    """Zero where it is in reach, else the whole centimetre nearest to it within."""
    if low <= 0.0 <= high:
        return 0.0
    if low > 0.0:
        inside = math.ceil(low / _GRID) * _GRID
        return inside if inside <= high else low
    inside = math.floor(high / _GRID) * _GRID
    return inside if inside >= low else high
