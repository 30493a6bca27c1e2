"""Rectangles on the sheet [mm], y down as on a page."""

from plumbing.frozen import frozen


@frozen
class Box:
    """An upright rectangle.

    Attributes
    ----------
    left, top, right, bottom : float
        Edges [mm].
    """

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Width [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height [mm]."""
        return self.bottom - self.top

    def moved(self, dx: float, dy: float) -> "Box":
        """The box shifted."""
        return Box(self.left + dx, self.top + dy, self.right + dx, self.bottom + dy)

    def grown(self, by: float) -> "Box":
        """The box with every edge moved outwards."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def scaled(self, scale: float, dx: float, dy: float) -> "Box":
        """The box scaled about the origin, then shifted."""
        return Box(
            self.left * scale + dx,
            self.top * scale + dy,
            self.right * scale + dx,
            self.bottom * scale + dy,
        )

    def meets(self, other: "Box", slack: float = 0.0) -> bool:
        """Whether the boxes share more than a rim of `slack` [mm]."""
        return (
            self.left < other.right - slack
            and other.left < self.right - slack
            and self.top < other.bottom - slack
            and other.top < self.bottom - slack
        )

    def holds(self, other: "Box", slack: float = 1e-6) -> bool:
        """Whether the other box lies inside."""
        return (
            self.left <= other.left + slack
            and self.top <= other.top + slack
            and self.right >= other.right - slack
            and self.bottom >= other.bottom - slack
        )


def around(boxes: list[Box]) -> Box:
    """Smallest box that holds all of them; at least one is needed."""
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )
