"""On the ground: filling, parking, safety at the field, care and papers."""

from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Named, Written
from plumbing.model.fields import (
    Age,
    Angle,
    Damping,
    Drop,
    Flow,
    Refers,
    Share,
    Size,
    Temperature,
    Time,
    Use,
    Usual,
    Volume,
    Within,
)
from plumbing.model.statement import BUILT, FLOWN, TESTED, Statement


@frozen(kw_only=True)
class Filling(Written):
    """How the aircraft is filled."""

    port: Annotated[str | None, Refers("part"), "fill port used; default the only one"] = None
    flow: Annotated[Flow | None, "filling flow"] = None
    pump_pressure: Annotated[Drop | None, "largest pressure of the filling pump"] = None
    pitch: Annotated[Angle, "attitude while filling, nose up", Usual("0 deg")] = 0.0
    roll: Annotated[Angle, "attitude while filling, starboard down", Usual("0 deg")] = 0.0
    drain_pitch: Annotated[Angle | None, "attitude while draining, nose up; default as filled"] = (
        None
    )
    drain_roll: Annotated[
        Angle | None, "attitude while draining, starboard down; default as filled"
    ] = None
    temperature: Annotated[Temperature, "fuel temperature when filled", Usual("15 degC")] = 15.0
    filter_pore: Annotated[Size | None, "pore of the filling filter"] = None
    hose_clamped: Annotated[Statement, "hose ends secured"] = FLOWN
    pump_distance: Annotated[Size | None, "from the hose joint to the filling pump"] = None
    bonded: Annotated[Statement, "conductive hose or bonding strap"] = FLOWN
    electric: Annotated[bool | None, "filled by an electric pump"] = None
    logged: Annotated[Statement, "litres in and out written down"] = FLOWN
    part_fill: Annotated[str | None, "which tanks hold fuel on a short flight, in words"] = None
    drained_with_vent_open: Annotated[Statement, "vent open while pumping out"] = FLOWN


@frozen(kw_only=True)
class Parking(Named):
    """An attitude the aircraft is left in, fuelled."""

    kind: Annotated[Literal["parked", "transport"], "use", Usual("parked", "named so")] = "parked"
    pitch: Annotated[Angle, "nose up", Usual("0 deg", "level")] = 0.0
    roll: Annotated[Angle, "starboard down", Usual("0 deg", "level")] = 0.0
    fuel: Annotated[Share, "share of the capacity on board", Usual("100 %", "filled to fly")] = 1.0
    duration: Annotated[Time, "how long", Usual("15 min")] = 900.0
    capped: Annotated[bool, "vents capped", Usual("no", "vents open")] = False
    shut_off_closed: Annotated[bool, "engine shut-off closed", Usual("yes")] = True
    hottest: Annotated[Temperature | None, "hottest the fuel gets there"] = None


@frozen(kw_only=True)
class Safety(Written):
    """Safety at the field."""

    extinguisher: Annotated[Literal["co2", "foam", "powder", "none"] | None, "type at hand"] = None
    helper_briefed: Annotated[Statement, "helper knows shut-off and extinguisher"] = FLOWN
    clear_zone: Annotated[Size | None, "distance of others at start"] = None
    brakes: Annotated[Statement, "brakes or chocks hold at idle"] = FLOWN
    hot_start_on_card: Annotated[Statement, "hot-start action on the card"] = FLOWN
    water_for_grass: Annotated[Statement, "means against a grass fire at the site"] = FLOWN
    start_gas: Annotated[bool | None, "pressurised start gas on board"] = None
    start_gas_leak_checked: Annotated[Statement, "start gas line leak-checked"] = TESTED


@frozen(kw_only=True)
class Papers(Written):
    """Care and papers."""

    lines_labelled: Annotated[Statement, "line numbers on the tubes"] = BUILT
    timer: Annotated[Time | None, "timer setting"] = None
    usable_on_card: Annotated[Statement, "usable fuel and timer on the card"] = FLOWN
    tests_recorded: Annotated[Statement, "bench tests recorded and signed"] = TESTED
    feed_order_tested: Annotated[Statement, "feed order measured by a drain-down"] = TESTED
    placards: Annotated[tuple[str, ...], "placards fitted"] = ()
    renewal: Annotated[Age | None, "interval at which soft hose is renewed"] = None
    service_time: Annotated[
        Use | None, "engine running between yearly jobs; default fifty flights"
    ] = None
    service_fuel: Annotated[
        Volume | None, "fuel burnt between yearly jobs; default fifty flights"
    ] = None
    storage_drained: Annotated[Statement, "drained and pump oiled for storage"] = FLOWN
    changes_dated: Annotated[Statement, "changes written down with date"] = FLOWN


@frozen(kw_only=True)
class Reserve(Written):
    """What must be left at touchdown: the greater of the two."""

    share: Annotated[Share, "share of the usable fuel", Usual("20 %")] = 0.20
    full_throttle: Annotated[Time, "time at full throttle", Usual("2 min")] = 120.0


@frozen(kw_only=True)
class Simulation(Written):
    """What a run takes into account."""

    slugs: Annotated[
        bool, "air takes its time through the lines to pump and engine", Usual("yes", "plug flow")
    ] = True
    slosh: Annotated[
        bool, "the surface in a tank swings after the force felt on board in a flight; default no"
    ] = False
    slosh_damping: Annotated[
        Damping, "damping of that swing, as share of the critical damping; default 5 %, our choice"
    ] = 0.05


@frozen(kw_only=True)
class Tolerances(Written):
    """How uncertain the stated values are, one standard case each."""

    bore: Annotated[Within, "tube and fitting bore", Usual("0.1 mm")] = 1e-4
    pore: Annotated[Share, "pore size", Usual("20 %")] = 0.2
    viscosity: Annotated[Share, "viscosity", Usual("10 %")] = 0.1
    flow: Annotated[Share, "engine flow", Usual("12 %")] = 0.12
    position: Annotated[Within, "tank position", Usual("3 mm")] = 3e-3
    cut_length: Annotated[Within, "cut length", Usual("5 mm")] = 5e-3


@frozen(kw_only=True)
class Accepted(Named):
    """A finding that somebody answers for: it is shown, and no longer asks to be mended."""

    check: Annotated[str, "name of the check"]
    part: Annotated[str | None, "part it was found at; without one, any"] = None
    reason: Annotated[str, "why it may stay"]
    by: Annotated[str, "who says so"]
    on: Annotated[str, "date, as 2026-05-01"]
