"""What comes out of the peak-flow computation, engine by engine. Plain values in SI."""

from collections.abc import Mapping

from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.physics.arrays import Array
from plumbing.results import NotComputed, Results


@frozen
class ElementDrop:
    """One element of the worst suction path, or of the pressure side, at full flow.

    Attributes
    ----------
    line : str
        Line it belongs to, or empty for a part.
    part : str
        Part it belongs to (filter, valve, tank port, tee), or empty for plain tube.
    what : str
        In words with its size, such as `tube 6x4, 420 mm`, `barb bore 3 mm`.
    bore : float
        Bore its loss is priced at [m].
    flow, velocity, reynolds : float
        At full flow, usual temperature [m3/s], [m/s], [-].
    drop : Figure
        Loss with its band (low and high loss coefficients) [Pa].
    share : float
        Share of the total loss of its side, 0 to 1.
    worst : tuple of float
        On the suction side its loss in the engine's coldest, loaded and dirty case [Pa].
    """

    line: str
    part: str
    what: str
    bore: float
    flow: float
    velocity: float
    reynolds: float
    drop: Figure
    share: float
    worst: tuple[float, ...] = ()


@frozen
class Worst:
    """A worst case found by search, and where it lies.

    Attributes
    ----------
    suction : Figure
        Suction at the pump inlet, positive below ambient, with its band [Pa].
    celsius : float
        Fuel temperature there [degC].
    load : str
        Load factor in words, such as `1 g level` or `pulling 8 g`.
    filters : str
        `clean` or `due for change`.
    """

    suction: Figure
    celsius: float
    load: str
    filters: str


@frozen
class EnginePeak:
    """One engine at full flow.

    Suctions are computed with the fuel at its lowest usable level, which is the worst.

    Attributes
    ----------
    engine, pump : str
        Names.
    flow : float
        Full flow [m3/s].
    suction : Figure
        Pump inlet suction at 1 g level, usual temperature, clean filters [Pa].
    coldest : Worst
        Worst over the whole stated temperature range at 1 g, clean.
    loaded : Worst
        Worst over the stated load factors and the temperature range, clean.
    dirty : Worst
        At 1 g over the temperature range with filters and pickups due for change.
    hardest : Worst
        Worst of all temperatures, load factors and states of the filters.
    flow_had : float
        Flow that can be had then [m3/s]: the full flow, unless the pump loses it to vapour and air.
    elements : tuple of ElementDrop
        Suction path from the tank that costs most to the pump inlet, in flow order.
    released : Figure
        Share of dissolved air set free at the inlet at 1 g, as void share, an upper bound.
    pump_height : float
        Pump inlet above the lowest usable level of the last tank [m]; negative when below.
    header : str
        Header tank that feeds the pump, or empty.
    header_seconds : float
        Its volume over the full flow [s]; 0 without a header.
    tank_pressures : mapping of str to Figure
        Gauge pressure in each tank's gas space at 1 g; low is the worst over load factors.
    pickup_drops : mapping of str to (clean, dirty)
    filter_drops : Results of (clean, dirty)
        Drop at full flow [Pa] of each pickup (`tank.port`) and filter; dirty may be None.
    delivery : tuple of ElementDrop
        Pressure side from pump outlet to engine.
    head_needed : Figure or NotComputed
        Pump pressure rise needed at full flow, cold and dirty [Pa].
    head_available : float or NotComputed
        Pump pressure rise at full flow on its curve [Pa].
    flow_available : float or NotComputed
        Flow at which the pump's curve meets the system [m3/s].
    """

    engine: str
    pump: str
    flow: float
    suction: Figure
    coldest: Worst
    loaded: Worst
    dirty: Worst
    hardest: Worst
    flow_had: float
    elements: tuple[ElementDrop, ...]
    released: Figure
    pump_height: float
    header: str
    header_seconds: float
    tank_pressures: Mapping[str, Figure]
    pickup_drops: Mapping[str, tuple[float, float | None]]
    filter_drops: Results[tuple[float, float | None]]
    delivery: tuple[ElementDrop, ...]
    head_needed: Figure | NotComputed
    head_available: float | NotComputed
    flow_available: float | NotComputed


@frozen
class Peak:
    """All engines at full flow together.

    Attributes
    ----------
    engines : Results of EnginePeak
        By engine.
    celsius : Array
        Temperatures of the sweep, shape (T,) [degC].
    sweep : mapping of str to Array
        Suction of each engine's pump inlet over that sweep at 1 g, clean, shape (T,) [Pa].
    """

    engines: Results[EnginePeak]
    celsius: Array
    sweep: Mapping[str, Array]

    @property
    def missing(self) -> tuple[NotComputed, ...]:
        """Reasons for engines that were not solved, and for pressure sides of those that were."""
        said = list(self.engines.missing)
        for one in self.engines.values():
            parts = (one.head_needed, one.head_available, one.flow_available)
            said += [part for part in parts if isinstance(part, NotComputed) and part.asked]
        return tuple(dict.fromkeys(said))
