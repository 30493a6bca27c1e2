"""What a log can hold: usual column names and units."""

from plumbing import units
from plumbing.frozen import frozen
from plumbing.physics.constants import GRAVITY

SHARE = "share"
_ACCELERATIONS = {one: 1.0 / GRAVITY for one in ("m/s2", "m/s^2", "m/s**2", "m/s²")}


@frozen
class Quantity:
    """A quantity of a log.

    Attributes
    ----------
    kind : str
        Key of `plumbing.units.KINDS`.
    unit : str
        Unit where the column names none; empty for a throttle, which shows its own.
    usual : tuple of str
        Usual names, in small letters and with spaces between words.
    low, high : float
        Values allowed, in SI and g; anything beyond is no flight.
    """

    kind: str
    unit: str
    usual: tuple[str, ...]
    low: float
    high: float

    def factor(self, unit: str) -> float | None:
        """Factor from a unit to SI (to g for load factors); None for an unknown one."""
        known = self.units()
        if unit in known:
            return known[unit]
        return next((f for name, f in known.items() if name.lower() == unit.lower()), None)

    def units(self) -> dict[str, float]:
        """Units a column of it may be in, with their factors."""
        plain = {name: pair[0] for name, pair in units.KINDS[self.kind].units.items()}
        return plain | (_ACCELERATIONS if self.kind == "load factor" else {})


_TURN = 2.1 * 3.141592653589793  # once round, and a little
QUANTITIES = {
    "time": Quantity(
        "time",
        "s",
        ("time", "t", "timestamp", "time stamp", "elapsed", "elapsed time"),
        -1e10,
        1e10,
    ),
    "throttle": Quantity(SHARE, "", ("throttle", "thr", "power lever"), -0.02, 1.02),
    "flow": Quantity("flow", "ml/min", ("flow", "fuel flow", "fuelflow"), 0.0, 2e-3),
    "felt_forward": Quantity(
        "load factor", "g", ("felt forward", "load forward", "forward load"), -50.0, 50.0
    ),
    "felt_starboard": Quantity(
        "load factor", "g", ("felt starboard", "load starboard", "starboard load"), -50.0, 50.0
    ),
    "felt_up": Quantity("load factor", "g", ("felt up", "load up", "upward load"), -50.0, 50.0),
    "pitch": Quantity("angle", "deg", ("pitch", "pitch angle"), -_TURN, _TURN),
    "roll": Quantity("angle", "deg", ("roll", "bank", "roll angle", "bank angle"), -_TURN, _TURN),
    "airspeed": Quantity(
        "speed", "m/s", ("airspeed", "air speed", "ias", "tas", "speed"), -20.0, 400.0
    ),
    "height": Quantity("length", "m", ("height", "altitude", "alt", "agl"), -1000.0, 20_000.0),
}
