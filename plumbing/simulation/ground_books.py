"""Where all the fuel went in a run on the ground."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GroundBooks:
    """On board at the start and pushed in, against left, taken out and lost; all [m3].

    Attributes
    ----------
    start : float
        On board at the start.
    pushed_in : float
        Pushed in at the fill port.
    left : mapping of str to float
        Left in each tank.
    taken : float
        Taken out at a drain or fill port.
    lost_overboard : mapping of str to float
        Lost overboard through each outlet; negative where more came in.
    leaked : mapping of str to float
        Leaked into each engine.
    """

    start: float
    pushed_in: float
    left: Mapping[str, float]
    taken: float
    lost_overboard: Mapping[str, float]
    leaked: Mapping[str, float]

    @property
    def overboard(self) -> float:
        """Lost overboard through all outlets."""
        return sum(self.lost_overboard.values())

    @property
    def amiss(self) -> float:
        """By how much both sides differ."""
        gone = self.taken + self.overboard + sum(self.leaked.values())
        return self.start + self.pushed_in - sum(self.left.values()) - gone
