"""Unusable fuel over attitude. Plain values in SI."""

from __future__ import annotations

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Flags


@frozen
class Leaning:
    """An attitude, or the direction of a load, and the fuel that is unusable in it.

    Attributes
    ----------
    name : str
        Phase or parking place it is from.
    pitch, roll : float
        Attitude at rest in which fuel falls the same way: nose up, starboard down [rad].
    seconds : float
        How long it is flown, or parked [s].
    parked : bool
        Whether it is a parking or transport attitude.
    volume : float
        Fuel below which the feed draws air [m3].
    share : float
        That as a share of the capacity [-].
    """

    name: str
    pitch: float
    roll: float
    seconds: float
    parked: bool
    volume: float
    share: float


@frozen(eq=False)
class Leanings:
    """The E distinct attitudes that are flown or parked in.

    Attributes
    ----------
    name : tuple of str
        Phase or parking place.
    down : Array
        Unit vectors along effective gravity, shape (E, 3).
    pitch, roll : Array
        The same as an attitude at rest, shape (E,) [rad].
    seconds : Array
        Shape (E,) [s].
    parked : Flags
        Shape (E,).
    """

    name: tuple[str, ...]
    down: Array
    pitch: Array
    roll: Array
    seconds: Array
    parked: Flags


@frozen(eq=False)
class TiltMap:
    """Fuel below which each tank's feed draws air, over pitch and roll.

    Attributes
    ----------
    tanks : tuple of str
        The T tanks that feed an engine.
    ports : tuple of tuple of str
        Ports by which they feed.
    unfed : tuple of str
        Tanks that feed none, which are left out.
    capacity : Array
        Shape (T,) [m3].
    pitch, roll : Array
        Axes of the map, shapes (P,) and (R,) [rad].
    unusable : Array
        Shape (T, P, R) [m3].
    envelope : Leanings
        What is flown and parked.
    leaning : Array
        Unusable fuel there, shape (T, E) [m3].
    flights : tuple of str
        Flights the envelope is from.
    assumed : bool
        Whether that is the usual flight, because the layout states none.
    """

    tanks: tuple[str, ...]
    ports: tuple[tuple[str, ...], ...]
    unfed: tuple[str, ...]
    capacity: Array
    pitch: Array
    roll: Array
    unusable: Array
    envelope: Leanings
    leaning: Array
    flights: tuple[str, ...]
    assumed: bool

    def over(self, tank: str | None = None) -> Array:
        """Map of one tank, or of all together, shape (P, R) [m3]."""
        return np.asarray(self._of(self.unusable, tank))

    def level(self, tank: str | None = None) -> float:
        """Unusable fuel in level flight [m3]."""
        at = np.hypot(self.pitch[:, None], self.roll[None, :])
        return float(self.over(tank).flat[int(np.argmin(at))])

    def room(self, tank: str | None = None) -> float:
        """Capacity of one tank, or of all together [m3]."""
        return float(self._of(self.capacity, tank))

    def worst(self, tank: str | None = None, most: int = 5) -> tuple[Leaning, ...]:
        """Worst of the attitudes flown and parked in, worst first; at most so many."""
        volumes = np.asarray(self._of(self.leaning, tank))
        room, where = self.room(tank), self.envelope
        order = np.lexsort((-where.seconds, -np.round(volumes, 9)))[:most]
        return tuple(
            Leaning(
                name=where.name[row],
                pitch=float(where.pitch[row]),
                roll=float(where.roll[row]),
                seconds=float(where.seconds[row]),
                parked=bool(where.parked[row]),
                volume=float(volumes[row]),
                share=float(volumes[row]) / room if room > 0.0 else 0.0,
            )
            for row in order
        )

    def _of(self, values: Array, tank: str | None) -> Array:
        total: Array = values.sum(axis=0) if tank is None else values[self.tanks.index(tank)]
        return total
