"""What is kept of a march of many scenarios: the moments that decide, not the history."""

from __future__ import annotations

import numpy as np

from plumbing.physics.arrays import Array, Flags
from plumbing.simulation.endurance import STOPS_AFTER
from plumbing.simulation.moment import Moment


class Seen:
    """Shown every moment of a march of S scenarios.

    Parameters
    ----------
    airborne : Flags
        Whether each stretch is flown in the air, shape (K,).
    watched : int
        Stretch at whose beginning the fuel is noted, or -1.

    Attributes
    ----------
    volume : Array
        Fuel in each tank at the end, shape (S, T) [m3].
    stop : Array
        When the first engine stopped, shape (S,) [s]; infinite if none did.
    burnt_at_stop, aloft_at_stop : Array
        Fuel burnt [m3] and time in the air [s] until then, or to the end, shape (S,).
    reached : Flags
        Whether the watched stretch was begun with engines running, shape (S,).
    watched_volume : Array
        Fuel in each tank as it began, shape (S, T) [m3].
    """

    def __init__(self, airborne: Flags, watched: int) -> None:
        self.airborne = airborne
        self.watched = watched
        self.last: Moment | None = None

    def __call__(self, moment: Moment) -> None:
        """Take note of a moment."""
        if self.last is None:
            self._begin(moment)
        else:
            self._go_on(self.last, moment)
        begun = (moment.stretch == self.watched) & ~self.reached & np.isinf(self.stop)
        self.watched_volume[begun] = moment.volume[begun]
        self.reached |= begun
        self.volume, self.last = moment.volume, moment

    def _begin(self, moment: Moment) -> None:
        count = len(moment.time)
        self.stop: Array = np.full(count, np.inf)
        self.aloft_at_stop: Array = np.zeros(count)
        self.burnt_at_stop: Array = np.zeros(count)
        self.reached: Flags = np.zeros(count, dtype=bool)
        self.watched_volume: Array = moment.volume.copy()
        self.volume = moment.volume

    def _go_on(self, before: Moment, now: Moment) -> None:
        """Add a step to every scenario whose engines all ran until now."""
        running = np.isinf(self.stop)
        length = now.time - before.time
        stopped = now.dry >= STOPS_AFTER
        at = np.where(stopped, now.time[:, None] - now.dry + STOPS_AFTER, np.inf).min(
            axis=1, initial=np.inf
        )
        ends = running & np.isfinite(at)
        self.stop[ends] = at[ends]
        past = np.where(ends, at - before.time, length)
        part = np.where(length > 0.0, past / np.where(length > 0.0, length, 1.0), 0.0)
        burnt = (now.burnt - before.burnt).sum(axis=1)
        stretch = np.minimum(before.stretch, len(self.airborne) - 1)
        aloft = np.where(self.airborne[stretch], length, 0.0)
        # Where the last step began after the stop, its part is negative: both go back in time.
        self.burnt_at_stop += np.where(running, part * burnt, 0.0)
        self.aloft_at_stop += np.where(running, part * aloft, 0.0)
