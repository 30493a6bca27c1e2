"""Labels beside what they name: each takes the first free place near by, with a leader if far."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import cos, pi, sin

from plumbing.drawing.boxes import Box
from plumbing.frozen import frozen

_WAYS = (0.0, pi, pi / 2, -pi / 2, pi / 4, -pi / 4, 3 * pi / 4, -3 * pi / 4)
_REACHES = (0.8, 2.5, 4.5, 7.0, 10.0, 14.0, 19.0, 25.0, 32.0, 40.0)

Point = tuple[float, float]


@frozen
class Callout:
    """A label in its place.

    Attributes
    ----------
    box : Box
        Where it stands [mm].
    leader : tuple of two points, or None
        Line from what it names to the label, where that is far.
    free : bool
        Whether the place is free of other labels and symbols.
    """

    box: Box
    leader: tuple[Point, Point] | None
    free: bool = True


@dataclass(slots=True)
class Board:
    """What is taken on a sheet.

    Attributes
    ----------
    room : Box
        Where labels may stand [mm].
    taken : list of Box
        Symbols and labels: not to be covered.
    soft : list of (float, float)
        Points along lines: better not covered.
    """

    room: Box
    taken: list[Box] = field(default_factory=list)
    soft: list[Point] = field(default_factory=list)

    def take(self, box: Box) -> None:
        """Keep a place from labels."""
        self.taken.append(box)

    def label(self, at: Point, width: float, height: float, outline: Box | None = None) -> Callout:
        """Find a place for a label of a size near a point, and take it.

        Parameters
        ----------
        at : (float, float)
            What is named [mm].
        width, height : float
            Size of the label [mm].
        outline : Box or None
            Outline of a large thing: its label stands in it, or else beside the outline.
        """
        best: tuple[float, Box, float] | None = None
        near = self._soft_near(at, width, height, outline)
        for reach in _REACHES:
            for box in self._places(at, width, height, reach, outline):
                if not self.room.holds(box) or any(box.meets(other) for other in self.taken):
                    continue
                price = reach + 0.9 * len(_inside(box, near))
                if best is None or price < best[0]:
                    best = price, box, reach
            if best is not None and best[0] <= reach:
                break
        if best is None:
            box = Box(at[0], at[1] - height, at[0] + width, at[1])
            return Callout(box, None, free=False)
        _, box, reach = best
        self.take(box)
        far = not (outline or Box(*at, *at)).grown(2.6).meets(box)
        return Callout(box, (at, _nearest(box, at)) if far else None)

    def _places(
        self, at: Point, w: float, h: float, reach: float, outline: Box | None
    ) -> Iterable[Box]:
        if outline is None:
            yield from self._around(at, w, h, reach + 0.4)
            return
        shift = reach - _REACHES[0]
        for x, y in ((0.0, -shift), (0.0, shift), (-shift, 0.0), (shift, 0.0)):
            box = Box(at[0] + x - w / 2, at[1] + y - h / 2, at[0] + x + w / 2, at[1] + y + h / 2)
            if outline.grown(-0.4).holds(box):
                yield box
        for x, y in ((at[0], outline.top - reach), (at[0], outline.bottom + reach + h)):
            yield Box(x - w / 2, y - h, x + w / 2, y)
        y = at[1] - h / 2
        yield Box(outline.right + reach, y, outline.right + reach + w, y + h)
        yield Box(outline.left - reach - w, y, outline.left - reach, y + h)

    def _soft_near(
        self, at: Point, width: float, height: float, outline: Box | None
    ) -> list[Point]:
        """Soft points that any label of this size for this thing could cover."""
        around, reach = outline or Box(*at, *at), _REACHES[-1] + 1.0
        left, right = min(around.left, at[0]) - width, max(around.right, at[0]) + width
        top, bottom = min(around.top, at[1]) - height, max(around.bottom, at[1]) + height
        return _inside(Box(left, top, right, bottom).grown(reach), self.soft)

    def _around(self, at: Point, w: float, h: float, gap: float) -> Iterable[Box]:
        for way in _WAYS:
            x, y = at[0] + gap * cos(way), at[1] - gap * sin(way)
            left = x - w / 2 + (cos(way) > 0.1) * w / 2 - (cos(way) < -0.1) * w / 2
            top = y - h / 2 - (sin(way) > 0.1) * h / 2 + (sin(way) < -0.1) * h / 2
            yield Box(left, top, left + w, top + h)


def _inside(box: Box, points: Iterable[Point]) -> list[Point]:
    return [(x, y) for x, y in points if box.left < x < box.right and box.top < y < box.bottom]


def _nearest(box: Box, at: Point) -> Point:
    return min(max(at[0], box.left), box.right), min(max(at[1], box.top), box.bottom)
