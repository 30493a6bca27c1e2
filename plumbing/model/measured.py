"""What can be measured on the built aircraft, and how it stands in the layout file."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Literal

from plumbing.frozen import frozen
from plumbing.model.base import Named
from plumbing.model.fields import (
    Count,
    Drop,
    Flow,
    Length,
    Mass,
    Refers,
    Temperature,
    Time,
    Volume,
)

What = Literal[
    "tank-pressure",
    "tank-suction",
    "vacuum-loss",
    "wet-joints",
    "fill-pressure",
    "fill-volume",
    "vent-suction",
    "siphon-rate",
    "inlet-suction",
    "pump-flow",
    "drain-time",
    "left-over",
    "header-air",
    "unported-air",
    "vent-loss",
    "dead-head-pressure",
    "stop-time",
    "mass",
    "cg",
    "heat-loss",
]

# Kind of quantity of each, which is also the field of `Measured` that holds the value.
MEASURES: Mapping[str, str] = MappingProxyType(
    {
        "tank-pressure": "pressure",
        "tank-suction": "pressure",
        "vacuum-loss": "pressure",
        "wet-joints": "count",
        "fill-pressure": "pressure",
        "fill-volume": "volume",
        "vent-suction": "pressure",
        "siphon-rate": "flow",
        "inlet-suction": "pressure",
        "pump-flow": "flow",
        "drain-time": "time",
        "left-over": "volume",
        "header-air": "volume",
        "unported-air": "volume",
        "vent-loss": "volume",
        "dead-head-pressure": "pressure",
        "stop-time": "time",
        "mass": "mass",
        "cg": "length",
        "heat-loss": "volume",
    }
)

# Statements, by their keys, that a passed reading is evidence for.
PROVES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "tank-pressure": ("tanks.wall.leak-tested",),
        "vacuum-loss": ("valves.vacuum-rated", "fill-ports.leak-tested"),
        "drain-time": ("papers.feed-order-tested",),
    }
)


@frozen(kw_only=True)
class Measured(Named):
    """A value measured on the built aircraft, to be compared with the prediction."""

    what: Annotated[What, "what was measured"]
    part: Annotated[str | None, Refers("part"), "where"] = None
    state: Annotated[str | None, "in which state, in the words of the bench card"] = None
    pressure: Annotated[Drop | None, "the value, if a pressure or suction"] = None
    volume: Annotated[Volume | None, "the value, if a volume"] = None
    time: Annotated[Time | None, "the value, if a time"] = None
    flow: Annotated[Flow | None, "the value, if a flow"] = None
    mass: Annotated[Mass | None, "the value, if a mass"] = None
    length: Annotated[Length | None, "the value, if a place along the aircraft"] = None
    count: Annotated[Count | None, "the value, if a number of things"] = None
    at_flow: Annotated[Flow | None, "flow at which it was measured"] = None
    temperature: Annotated[Temperature | None, "fuel temperature then"] = None
    on: Annotated[str | None, "date"] = None
    by: Annotated[str | None, "who measured it"] = None
    instrument: Annotated[str | None, "with what"] = None
