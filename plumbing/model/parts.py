"""The other parts of the system: tees, filters, pumps, valves, openings, connectors."""

from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Named, Written
from plumbing.model.fields import (
    Age,
    Area,
    Bore,
    Charge,
    Drop,
    Flow,
    Inside,
    Mass,
    Point,
    Ratio,
    Size,
    Usual,
    Voltage,
    Volume,
)
from plumbing.model.statement import BUILT, FLOWN, TESTED, Statement
from plumbing.model.tank import Shape


@frozen(kw_only=True)
class Tee(Named):
    """A tee or wye; its ports are `run-a`, `run-b` and `branch`."""

    at: Annotated[Point, "centre"]
    bore: Annotated[Bore, "narrowest bore"]
    kind: Annotated[Literal["tee", "wye", "cross"], "form", Usual("tee", "named so")] = "tee"
    body: Annotated[Shape | None, "its body; else a ball as wide as such parts are"] = None
    inside: Inside = ()


@frozen(kw_only=True)
class Filter(Named):
    """A filter; its ports are `in` and `out`."""

    at: Annotated[Point, "centre"]
    bore: Annotated[Bore, "narrowest bore of its connections"]
    pore: Annotated[Size | None, "largest pore"] = None
    area: Annotated[Area | None, "clear area of the element"] = None
    clean_drop: Annotated[Drop | None, "drop at `drop-flow`, clean"] = None
    dirty_drop: Annotated[Drop | None, "drop at `drop-flow` when due for change"] = None
    drop_flow: Annotated[Flow | None, "flow the drops are stated at; default full flow"] = None
    volume: Annotated[Volume | None, "volume of the bowl"] = None
    outlet_up: Annotated[bool | None, "outlet at the top in normal attitude"] = None
    clipped: Annotated[Statement, "held by a clip of its own"] = BUILT
    screwed: Annotated[bool | None, "body screwed together on a seal"] = None
    reachable: Annotated[bool | None, "can be reached for service"] = None
    one_way: Annotated[bool | None, "the element may be flushed in one direction only"] = None
    mass: Annotated[Mass | None, "mass"] = None
    body: Annotated[Shape | None, "its body; else a ball as wide as such parts are"] = None
    inside: Inside = ()


@frozen(kw_only=True)
class CurvePoint(Written):
    """A point of a pump's curve at the supply voltage."""

    flow: Annotated[Flow, "flow delivered"]
    pressure: Annotated[Drop, "pressure rise at that flow"]


@frozen(kw_only=True)
class Supply(Written):
    """What drives the pump."""

    voltage: Annotated[Voltage | None, "loaded supply voltage"] = None
    voltage_full: Annotated[Voltage | None, "pump voltage at full throttle"] = None
    voltage_idle: Annotated[Voltage | None, "pump voltage at idle"] = None
    capacity: Annotated[Charge | None, "battery capacity"] = None


@frozen(kw_only=True)
class Pump(Named):
    """A pump; its ports are `in` and `out`."""

    at: Annotated[Point, "inlet"]
    bore: Annotated[Bore, "bore of the inlet connection"]
    outlet_bore: Annotated[Bore | None, "bore of the outlet connection; default the inlet's"] = None
    curve: Annotated[tuple[CurvePoint, ...], "curve at the available voltage"] = ()
    cap: Annotated[
        Literal["restrictor", "cell-count", "relief", "controller", "none"] | None,
        "what keeps its flow below the engine's ceiling",
    ] = None
    cap_flow: Annotated[Flow | None, "largest flow with that cap in place"] = None
    dead_head: Annotated[Drop | None, "pressure against a closed valve"] = None
    leak_flow: Annotated[Flow | None, "flow through it stopped, under 10 kPa"] = None
    supply: Annotated[Supply, "electrical supply"] = Supply()
    reachable: Annotated[bool | None, "can be seen and reached"] = None
    mass: Annotated[Mass | None, "mass"] = None
    body: Annotated[Shape | None, "its body; else a ball as wide as such parts are"] = None
    inside: Inside = ()


@frozen(kw_only=True)
class Valve(Named):
    """A valve in a line; its ports are `in` and `out`.

    `flight` and `filling` state whether it is open then; a check valve passes from `in` to
    `out` only.
    """

    at: Annotated[Point, "centre"]
    bore: Annotated[Bore, "narrowest bore open"]
    kind: Annotated[Literal["shut-off", "check", "electric"], "form"]
    flight: Annotated[Literal["open", "closed"], "in flight", Usual("open", "drawn for flight")] = (
        "open"
    )
    filling: Annotated[Literal["open", "closed"], "while filling", Usual("closed")] = "closed"
    parked: Annotated[Literal["open", "closed"], "parked and in transport", Usual("closed")] = (
        "closed"
    )
    cracking_pressure: Annotated[Drop | None, "pressure at which a check valve opens"] = None
    unpowered: Annotated[Literal["open", "closed"] | None, "electric valve without power"] = None
    outside: Annotated[bool | None, "worked from outside in one movement"] = None
    position_visible: Annotated[bool | None, "position shown by lever, pointer or colour"] = None
    vacuum_rated: Annotated[Statement, "tight under suction, tested"] = TESTED
    mass: Annotated[Mass | None, "mass"] = None
    body: Annotated[Shape | None, "its body; else a ball as wide as such parts are"] = None
    inside: Inside = ()


@frozen(kw_only=True)
class Plug(Written):
    """The plug or cap of an outlet."""

    flag: Annotated[Statement, "carries a flag"] = BUILT
    tether: Annotated[Statement, "tied to the box or the aircraft"] = BUILT
    on_card: Annotated[Statement, "named on the pre-flight card"] = FLOWN
    fitted_in_flight: Annotated[bool, "stays in for flight", Usual("no")] = False


@frozen(kw_only=True)
class Outlet(Named):
    """A vent or overflow opening to the outside; its one port is `tube`."""

    at: Annotated[Point, "opening"]
    bore: Annotated[Bore, "narrowest bore"]
    facing: Annotated[
        Literal["forward", "aft", "side", "down", "up", "flush"] | None,
        "which way the opening looks",
    ] = None
    pressure_coefficient: Annotated[Ratio | None, "outlet pressure over dynamic pressure"] = None
    plug: Annotated[Plug | None, "plug for transport"] = None
    mesh_area: Annotated[Area | None, "area of a mesh over it"] = None
    bottle: Annotated[Statement, "overflow caught in a bottle when filling"] = FLOWN
    seen_while_filling: Annotated[bool | None, "seen by the person filling"] = None
    into_bay: Annotated[bool | None, "ends inside the airframe"] = None
    marked: Annotated[Statement, "colour or label of its own"] = BUILT


@frozen(kw_only=True)
class FillPort(Named):
    """Where fuel is put in and taken out; its one port is `tube`."""

    at: Annotated[Point, "opening"]
    bore: Annotated[Bore, "narrowest bore"]
    valve: Annotated[bool | None, "closes by itself or by a valve"] = None
    cap: Annotated[bool | None, "has a cap as second barrier"] = None
    leak_tested: Annotated[Statement, "vacuum-tested closed"] = TESTED
    label: Annotated[str | None, "words on the label"] = None
    rate_on_label: Annotated[Statement, "largest filling flow on the label"] = BUILT


@frozen(kw_only=True)
class Drain(Named):
    """A drain opening, closed in flight; its one port is `tube`."""

    at: Annotated[Point, "opening"]
    bore: Annotated[Bore, "narrowest bore"]
    locks: Annotated[bool | None, "locks closed"] = None


@frozen(kw_only=True)
class Connector(Named):
    """A self-closing or plug connector, as at a wing root; its ports are `in` and `out`."""

    at: Annotated[Point, "centre"]
    bore: Annotated[Bore, "narrowest bore"]
    self_closing: Annotated[bool | None, "closes when parted"] = None
    sealed_by: Annotated[Literal["o-ring", "taper", "barb"] | None, "seal"] = None
    age: Annotated[Age | None, "age of the seals"] = None
    travel: Annotated[Size | None, "movement between its halves in assembly"] = None
    keyed: Annotated[bool | None, "cannot be joined to the wrong one"] = None
    body: Annotated[Shape | None, "its body; else a ball as wide as such parts are"] = None
    inside: Inside = ()


@frozen(kw_only=True)
class Joint(Named):
    """A kind of line end: what the tube is pushed on or into."""

    kind: Annotated[Literal["barb", "push-in", "compression", "bead", "plain", "threaded"], "form"]
    bore: Annotated[Bore | None, "narrowest bore"] = None
    outside_diameter: Annotated[Bore | None, "largest diameter of the barb"] = None
    lock: Annotated[
        Literal["wire", "clip", "spring", "sleeve", "none"] | None, "what holds the tube on"
    ] = None
    seal: Annotated[str | None, "material of its seal"] = None
    body: Annotated[str | None, "material of its body"] = None
    age: Annotated[Age | None, "since it was fitted"] = None
    tape: Annotated[bool | None, "thread sealed with tape"] = None
    square_cut: Annotated[Statement, "tube cut square with a cutter"] = BUILT
    deburred: Annotated[Statement, "metal tube deburred and cleaned"] = BUILT
    wire_sleeved: Annotated[Statement, "wire lock over a sleeve, ends turned in"] = BUILT
    straight: Annotated[Size | None, "straight tube before the joint"] = None
    loss_coefficient: Annotated[Ratio | None, "loss on its own dynamic pressure"] = None
    mass: Annotated[Mass | None, "mass"] = None
