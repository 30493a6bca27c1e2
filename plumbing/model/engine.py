"""The engines: what they demand of the fuel system, and how they are stopped."""

from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Named, Written
from plumbing.model.fields import Bore, Drop, Flow, Force, Inside, Point, Share, Time
from plumbing.model.tank import Shape


@frozen(kw_only=True)
class Stops(Written):
    """The ways the engine can be stopped."""

    manual: Annotated[bool | None, "a shut-off worked by hand from outside"] = None
    remote: Annotated[bool | None, "a stop commanded by radio"] = None
    failsafe: Annotated[Literal["off", "idle", "hold"] | None, "on loss of signal"] = None
    failsafe_time: Annotated[Time | None, "time from loss of signal to that state"] = None


@frozen(kw_only=True)
class Engine(Named):
    """A turbine; its one port is `feed`."""

    at: Annotated[Point, "fuel connection at the engine"]
    thrust: Annotated[Force | None, "static thrust"] = None
    full_flow: Annotated[Flow | None, "fuel flow at full throttle"] = None
    idle_flow: Annotated[Flow | None, "fuel flow at idle"] = None
    feed_pressure_full: Annotated[Drop | None, "gauge pressure needed at full throttle"] = None
    feed_pressure_idle: Annotated[Drop | None, "gauge pressure needed at idle"] = None
    flow_ceiling: Annotated[Flow | None, "largest flow the engine stands without overspeed"] = None
    flame_out_gas_share: Annotated[
        Share | None, "gas in its feed, by volume, at which it goes out"
    ] = None
    bore: Annotated[Bore | None, "bore of the feed connection"] = None
    exhaust: Annotated[Point | None, "centre of the exhaust nozzle"] = None
    intake: Annotated[Point | None, "centre of the intake"] = None
    body: Annotated[Shape | None, "its body; else a cylinder from intake to exhaust"] = None
    inside: Inside = ()
    stops: Annotated[Stops, "how it is stopped"] = Stops()
