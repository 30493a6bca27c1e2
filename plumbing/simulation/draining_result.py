"""What comes out of draining. Plain values in SI."""

from __future__ import annotations

from collections.abc import Mapping

from plumbing.frozen import frozen
from plumbing.simulation.books import Books


@frozen
class Drained:
    """Everything that can be taken out at one place.

    Attributes
    ----------
    place : str
        Drain or fill port.
    pitch, roll : float
        Attitude it is held in, nose up and starboard down [rad].
    sucked : bool
        Whether the filling pump draws there; else the fuel runs out by itself.
    flow : float
        Flow drawn, or the flow at which it begins to run [m3/s].
    why_not : str
        Why nothing comes out, in words; empty if something does.
    duration : float
        Until nothing but air comes, or nothing moves [s].
    books : Books
        Where all the fuel went.
    suction : mapping of str to float
        Largest suction in each tank's gas space on the way [Pa].
    flat : tuple of str
        Tanks whose walls fold under that suction.
    flat_vent_closed : mapping of str to float
        With every vent closed: fuel drawn until the first tanks fold [m3].
    """

    place: str
    pitch: float
    roll: float
    sucked: bool
    flow: float
    why_not: str
    duration: float
    books: Books
    suction: Mapping[str, float]
    flat: tuple[str, ...]
    flat_vent_closed: Mapping[str, float]

    @property
    def left_share(self) -> float:
        """Share of the fuel that stays [-]."""
        left, start = sum(self.books.left.values()), self.books.start
        return left / start if start > 0.0 else 0.0
