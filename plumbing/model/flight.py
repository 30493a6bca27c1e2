"""Flights: phases written by hand, or a time series recorded in flight."""

from typing import Annotated

from plumbing.frozen import frozen
from plumbing.model.base import Named, Written
from plumbing.model.fields import Angle, LoadFactor, Quantity, Share, Speed, Time, Usual


@frozen(kw_only=True)
class Felt(Written):
    """Load factors felt on board, in g: what makes fuel pile up on the opposite side.

    Level and unaccelerated is `up: 1 g`. A take-off run of half a g is `forward: 0.5 g`.
    """

    forward: Annotated[LoadFactor, "accelerating forwards", Usual("0 g", "unaccelerated")] = 0.0
    starboard: Annotated[LoadFactor, "accelerating to starboard", Usual("0 g", "balanced")] = 0.0
    up: Annotated[LoadFactor, "pulling", Usual("1 g", "level flight")] = 1.0


@frozen(kw_only=True)
class Phase(Written):
    """A stretch of flight, or a group of phases that is repeated.

    The attitude is given either by `pitch` and `roll` (unaccelerated) or by `felt`.
    """

    name: Annotated[str, "what it is, in words", Usual("phase", "not named")] = "phase"
    duration: Annotated[Time | None, "how long; not for a group"] = None
    throttle: Annotated[
        Share | None, "fuel flow between idle (0 %) and full (100 %); not for a group"
    ] = None
    pitch: Annotated[Angle, "nose up", Usual("0 deg", "level")] = 0.0
    roll: Annotated[Angle, "starboard down", Usual("0 deg", "level")] = 0.0
    felt: Annotated[Felt | None, "load factors instead of an attitude"] = None
    airspeed: Annotated[Speed | None, "airspeed"] = None
    gear_up: Annotated[bool, "gear retracted", Usual("no", "not stated")] = False
    on_ground: Annotated[bool, "before take-off or after landing", Usual("no", "not stated")] = (
        False
    )
    repeat: Annotated[int, Quantity("count", 1, 1000), "how often", Usual("1", "once")] = 1
    phases: Annotated[tuple["Phase", ...], "phases of a group"] = ()


@frozen(kw_only=True)
class Columns(Written):
    """Names of the columns of a recorded flight; units follow the column in brackets or here."""

    time: Annotated[str, "time [s]", Usual("time", "plain name")] = "time"
    throttle: Annotated[str | None, "throttle, 0 to 1 or 0 to 100"] = None
    flow: Annotated[str | None, "fuel flow [ml/min]"] = None
    felt_forward: Annotated[str | None, "load factor felt forwards [g]"] = None
    felt_starboard: Annotated[str | None, "load factor felt to starboard [g]"] = None
    felt_up: Annotated[str | None, "load factor felt upwards [g]"] = None
    pitch: Annotated[str | None, "pitch [deg]"] = None
    roll: Annotated[str | None, "roll [deg]"] = None
    airspeed: Annotated[str | None, "airspeed [m/s]"] = None
    height: Annotated[str | None, "height [m]"] = None


@frozen(kw_only=True)
class Log(Written):
    """A time series recorded in flight, as CSV beside the layout file."""

    file: Annotated[str, "name of the CSV file"]
    columns: Annotated[Columns, "column names"] = Columns()
    longest_gap: Annotated[Time, "gap bridged by holding the last value", Usual("2 s")] = 2.0
    smoothing: Annotated[Time, "noise is averaged over", Usual("0.5 s")] = 0.5


@frozen(kw_only=True)
class Flight(Named):
    """One flight: phases or a log."""

    phases: Annotated[tuple[Phase, ...], "phases in order"] = ()
    log: Annotated[Log | None, "recorded flight instead of phases"] = None
