"""Plan, side and front: which way the axes lie on the sheet, and at which scale."""

import numpy as np

from plumbing.drawing.boxes import Box
from plumbing.frozen import frozen
from plumbing.geometry.outline import FRONT, PLAN, SIDE
from plumbing.physics.arrays import Array

AXES: dict[str, Array] = {"plan": PLAN, "side": SIDE, "front": FRONT}
WORDS = {
    "plan": "plan, seen from above, nose to the left",
    "side": "side elevation, seen from port, nose to the left",
    "front": "cross view, seen from aft, starboard to the right",
}
LETTERS = {"plan": ("x", "y"), "side": ("x", "z"), "front": ("y", "z")}
SCALES = (
    1.0,
    2.0,
    2.5,
    3.0,
    4.0,
    5.0,
    6.0,
    8.0,
    10.0,
    15.0,
    20.0,
    25.0,
    50.0,
    100.0,
    200.0,
    500.0,
    1000.0,
)

Point = tuple[float, float]


@frozen(eq=False)
class View:
    """How aircraft axes come onto the sheet.

    Attributes
    ----------
    name : str
        plan, side or front.
    scale : float
        Reduction: 5 for 1 to 5.
    left, top : float
        Sheet position of `low` across and `high` up [mm].
    low, high : float
        Aircraft position at that corner [m]: across and up.
    """

    name: str
    scale: float
    left: float
    top: float
    low: float
    high: float

    @property
    def axes(self) -> Array:
        """Directions to the right and up on the sheet, shape (2, 3)."""
        return AXES[self.name]

    def sheet(self, flat: Array) -> list[Point]:
        """Points of the view's plane [m], shape (N, 2), as points on the sheet [mm]."""
        per_metre = 1e3 / self.scale
        x = self.left + (flat[:, 0] - self.low) * per_metre
        y = self.top + (self.high - flat[:, 1]) * per_metre
        return list(zip(x.tolist(), y.tolist(), strict=True))

    def points(self, solid: Array) -> list[Point]:
        """Points in aircraft axes [m], shape (N, 3), as points on the sheet [mm]."""
        return self.sheet(np.asarray(solid, float).reshape(-1, 3) @ self.axes.T)

    def point(self, at: tuple[float, float, float]) -> Point:
        """One point in aircraft axes [m] on the sheet [mm]."""
        return self.points(np.array([at]))[0]


def fit(name: str, flat: Array, room: Box) -> View | None:
    """View at the largest usual scale that fits a room, in its middle; None if none fits.

    Parameters
    ----------
    name : str
        plan, side or front.
    flat : Array
        Extreme points in the view's plane [m], shape (N, 2).
    room : Box
        Room on the sheet [mm].
    """
    low, high = flat.min(axis=0), flat.max(axis=0)
    size = np.maximum(high - low, 1e-3)
    for scale in SCALES:
        wide, tall = size * 1e3 / scale
        if wide <= room.width and tall <= room.height:
            left = room.left + (room.width - float(wide)) / 2
            top = room.top + (room.height - float(tall)) / 2
            return View(name, scale, left, top, float(low[0]), float(high[1]))
    return None
