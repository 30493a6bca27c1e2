"""Where all the fuel went in a run."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array


@frozen(kw_only=True)
class Books:
    """Where the fuel went up to a moment: on board + pushed in = left + burnt + taken + lost.

    Attributes
    ----------
    until : float
        The moment [s].
    on_board : mapping of str to float
        Fuel in each tank at the start [m3].
    pushed_in : float
        Pushed in at the fill port [m3].
    left : mapping of str to float
        Fuel in each tank at that moment [m3].
    burnt : mapping of str to float
        Fuel that each engine took [m3].
    taken : float
        Taken out at a drain or fill port [m3].
    lost : mapping of (str, str) to float
        Fuel that left through each opening in each phase of a flight, or on the ground (no phase)
        [m3]; negative where more came in.
    """

    until: float
    on_board: Mapping[str, float]
    left: Mapping[str, float]
    pushed_in: float = 0.0
    burnt: Mapping[str, float] = field(default_factory=dict)
    taken: float = 0.0
    lost: Mapping[tuple[str, str], float] = field(default_factory=dict)

    @property
    def start(self) -> float:
        """Fuel on board at the start [m3]."""
        return sum(self.on_board.values())

    @property
    def gone(self) -> float:
        """Fuel lost overboard [m3]."""
        return sum(self.lost.values())

    @property
    def lost_overboard(self) -> dict[str, float]:
        """Fuel lost through each opening [m3]."""
        found: dict[str, float] = {}
        for (opening, _), volume in self.lost.items():
            found[opening] = found.get(opening, 0.0) + volume
        return found

    @property
    def amiss(self) -> float:
        """By how much both sides differ [m3]."""
        out = sum(self.left.values()) + sum(self.burnt.values()) + self.taken + self.gone
        return self.start + self.pushed_in - out


def by_tank(layout: Layout, volume: Array) -> dict[str, float]:
    """Fuel in the tanks (T,) [m3] by their names."""
    return dict(zip(layout.tanks, volume.tolist(), strict=True))


def on_ground(lost: Mapping[str, float]) -> dict[tuple[str, str], float]:
    """Fuel lost through openings [m3] outside any phase of a flight."""
    return {(opening, ""): volume for opening, volume in lost.items()}
