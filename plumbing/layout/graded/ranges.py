"""What values that a short file leaves out could be: low, usual and high, all common practice."""

from typing import NamedTuple


class Range(NamedTuple):
    """Low, usual and high value [SI]."""

    low: float
    usual: float
    high: float

    def times(self, size: float) -> "Range":
        """The same as shares of a size."""
        return Range(*(size * one for one in self))


FROM_TANK = Range(0.05, 0.3, 1.0)  # length of a line at a tank [m]
BETWEEN = Range(0.03, 0.1, 0.4)  # of one between two small parts [m]
TO_ENGINE = Range(0.05, 0.25, 0.8)  # of one at an engine [m]
BARB = Range(0.70, 0.90, 1.05)  # bore of barbs and fittings over that of the tube [-]
VALVE = Range(0.70, 1.0, 1.1)  # bore of a valve over that of the tube [-]
TUBE_BORE = Range(3e-3, 4e-3, 6e-3)  # of a suction or vent line [m]
PRESSURE_BORE = Range(2e-3, 2.5e-3, 3e-3)  # behind the pump [m]
TUBES = {"suction": "polyurethane 6x4", "pressure": "nylon 4x2.5"}
SCREEN = Range(50.0, 250.0, 1000.0)  # drop of a filter before the pump, clean [Pa]
SCREEN_DIRTY = Range(300.0, 800.0, 3000.0)  # due for change [Pa]
FINE = Range(2e3, 7e3, 15e3)  # behind the pump, clean [Pa]
FINE_DIRTY = Range(8e3, 16e3, 40e3)  # due for change [Pa]
RISE = Range(-0.08, 0.0, 0.08)  # height of a pump over the floor of the first tank [m]
AFT = Range(-0.3, 0.0, 0.3)  # place of a tank or pump fore and aft [m]
TANK_RISE = Range(-0.05, 0.0, 0.05)  # of the floor of another tank [m]
SLENDER = Range(0.3, 0.7, 1.3)  # height of a tank over the cube root of its volume [-]
SLENDER_HEADER = Range(0.6, 1.2, 2.0)  # the same of a header [-]
