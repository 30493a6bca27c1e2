"""What is kept of a march of many scenarios: the moments that decide, not the history."""

from __future__ import annotations

import numpy as np

from plumbing.physics.arrays import Array, Flags
from plumbing.simulation.engines import Engines, Stops
from plumbing.simulation.moment import Moment
from plumbing.simulation.slugs import Slugs


class Seen:
    """Shown every moment of a march of S scenarios.

    Parameters
    ----------
    engines : Engines
        The engines.
    slugs : Slugs
        The lines to them.
    watched : int
        Stretch at whose beginning the fuel is noted, or -1.

    Attributes
    ----------
    stops : Stops
        The engines that stop.
    reached : Flags
        Whether the watched stretch was begun with engines running, shape (S,).
    watched_volume : Array
        Fuel in each tank as it began, shape (S, T) [m3].
    """

    def __init__(self, engines: Engines, slugs: Slugs, watched: int) -> None:
        self.stops = Stops(engines, slugs)
        self.watched = watched
        self.reached: Flags = np.zeros(0, dtype=bool)

    def __call__(self, moment: Moment) -> None:
        """Take note of a moment."""
        self.stops(moment)
        if not self.reached.size:
            self.reached = np.zeros(len(moment.time), dtype=bool)
            self.watched_volume: Array = moment.volume.copy()
        begun = (moment.stretch == self.watched) & ~self.reached
        if begun.any():
            begun &= self.stops.running
            self.watched_volume[begun] = moment.volume[begun]
            self.reached |= begun
