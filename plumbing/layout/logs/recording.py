"""What was recorded in a flight, as arrays."""

from plumbing.findings import Assumption
from plumbing.frozen import frozen
from plumbing.physics.arrays import Array


@frozen(eq=False)
class Recording:
    """N rows of a recorded flight; each holds until the next.

    Attributes
    ----------
    file : str
        Path as the user gave it.
    time : Array
        Rising, shape (N,) [s].
    throttle : Array or None
        Fuel flow between idle (0) and full (1), shape (N,) [-].
    flow : Array or None
        Fuel flow of all engines together, shape (N,) [m3/s].
    felt : Array or None
        Load factors felt forwards, to starboard and upwards, shape (N, 3) [g]; those that were
        not recorded are 0, 0 and 1.
    pitch, roll : Array or None
        Nose up and starboard down, shape (N,) [rad].
    airspeed : Array or None
        Shape (N,) [m/s].
    height : Array or None
        Shape (N,) [m].
    bridged : int
        Cells without a number that were filled with the last value before them.
    assumed : tuple of Assumption
        What the file does not say.
    """

    file: str
    time: Array
    throttle: Array | None = None
    flow: Array | None = None
    felt: Array | None = None
    pitch: Array | None = None
    roll: Array | None = None
    airspeed: Array | None = None
    height: Array | None = None
    bridged: int = 0
    assumed: tuple[Assumption, ...] = ()

    @property
    def length(self) -> float:
        """From the first row to the last [s]."""
        return float(self.time[-1] - self.time[0])
