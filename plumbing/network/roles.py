"""What kinds of part, line and condition the network knows."""

from enum import StrEnum


class PartKind(StrEnum):
    """Kind of part a port belongs to."""

    TANK = "tank"
    TEE = "tee"
    FILTER = "filter"
    PUMP = "pump"
    VALVE = "valve"
    CONNECTOR = "connector"
    OUTLET = "outlet"
    FILL_PORT = "fill port"
    DRAIN = "drain"
    ENGINE = "engine"


class Role(StrEnum):
    """What a line is there for in this layout; found from the topology."""

    SUCTION = "suction"  # from a tank towards a pump, also from tank to tank in a chain
    PRESSURE = "pressure"  # from a pump to an engine, a second pump or a tank it fills
    VENT = "vent"  # between an outlet and what it vents
    FILL = "fill"  # between a fill port and what it fills
    DRAIN = "drain"  # between a drain and what it drains
    RETURN = "return"  # from a tank's gas space to the next tank: a bleed or an overflow return
    BALANCE = "balance"  # between tanks equally near the pump: no direction of its own
    LOOSE = "loose"  # leads nowhere


class Flow(StrEnum):
    """Direction a line carries fuel or air in, seen along the line as written."""

    FORWARD = "forward"
    BACKWARD = "backward"
    EITHER = "either"
    STILL = "still"


class Condition(StrEnum):
    """State of the valves and pumps when asking what can pass."""

    FLIGHT = "flight"  # valves as stated for flight; pumps pass forwards
    FILLING = "filling"  # valves as stated for filling; pumps stopped and tight
    FLOODING = "flooding"  # as filling, but fuel seeps forwards through a stopped pump
    OPEN = "open"  # every valve and cap open, check valves lifted; pumps pass forwards


class Barrier(StrEnum):
    """What may stop flow in a join."""

    NONE = "none"
    CAP = "cap"
    PUMP = "pump"
    CHECK = "check valve"
    VALVE = "valve"
