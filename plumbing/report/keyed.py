"""Results on the ground as plain data: every key that has a unit ends with it.

The keys are a promise to other programs, so they are written down here instead of being taken from
the names that the program happens to use.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from plumbing import units
from plumbing.findings import Figure
from plumbing.simulation.draining_result import Drained
from plumbing.simulation.filling_result import Pushed, Spill, TankFilled
from plumbing.simulation.parking_result import EngineParked, OutletParked, Parked, Warmed
from plumbing.simulation.vents_result import OutletPressure, Uneven, VentRouted, Vents

Keys = dict[str, str]  # name of a field, its key

KEYS: Mapping[type, Keys] = {
    TankFilled: {
        "tank": "tank",
        "begins": "begins_s",
        "full": "full_s",
        "holds": "holds_m3",
        "trapped": "trapped_m3",
        "pressure_before": "pressure_before_Pa",
        "pressure": "pressure_Pa",
        "gas": "gas_Pa",
        "rated": "rated_Pa",
    },
    Spill: {"outlet": "outlet", "first": "first_s", "flow": "flow_m3_s", "filling": "filling"},
    Pushed: {"engine": "engine", "pump": "pump", "pressure": "pressure_Pa", "volume": "volume_m3"},
    Drained: {
        "place": "place",
        "sucked": "sucked",
        "flow": "flow_m3_s",
        "why_not": "why_not",
        "duration": "duration_s",
        "on_board": "on_board_m3",
        "taken": "taken_m3",
        "left": "left_m3",
        "suction": "suction_Pa",
        "flat": "flat",
        "flat_vent_closed": "flat_vent_closed_m3",
    },
    Parked: {
        "name": "name",
        "kind": "kind",
        "pitch": "pitch_rad",
        "roll": "roll_rad",
        "duration": "duration_s",
        "fuel": "fuel_m3",
        "capped": "capped",
        "outlets": "outlets",
        "moved": "moved_m3",
        "spilt": "spilt_m3",
        "engines": "engines",
        "warmed": "warmed",
    },
    OutletParked: {
        "tank": "tank",
        "outlet": "outlet",
        "lines": "lines",
        "state": "state",
        "head": "head_m",
        "rise": "rise_m",
        "rate": "rate_m3_s",
        "loss": "loss_m3",
        "time": "time_s",
    },
    EngineParked: {
        "engine": "engine",
        "pump": "pump",
        "tank": "tank",
        "over_engine": "over_engine_m",
        "over_pump": "over_pump_m",
        "shut": "shut",
        "open_rate": "open_rate_m3_s",
        "leaked": "leaked_m3",
    },
    Warmed: {
        "celsius_from": "from_degC",
        "celsius_to": "to_degC",
        "grown": "grown_m3",
        "share": "share",
        "spilt": "spilt_m3",
        "capped_pressure": "capped_pressure_Pa",
        "brim_full": "brim_full",
        "over_rated": "over_rated_Pa",
    },
    Vents: {
        "airspeed": "airspeed_m_s",
        "ways": "ways",
        "pressures": "pressures",
        "unknown": "unknown",
        "uneven": "uneven",
    },
    VentRouted: {
        "tank": "tank",
        "outlet": "outlet",
        "lines": "lines",
        "bore": "bore_m",
        "highs": "highs_m",
        "lows": "lows_m",
        "sags": "sags_m",
        "low_at": "low_at_m",
        "slug": "slug_Pa",
        "slug_when": "slug_when",
        "slug_level": "slug_level_Pa",
    },
    OutletPressure: {"outlet": "outlet", "pressure": "pressure", "stated": "stated"},
    Uneven: {"outlets": "outlets", "difference": "difference"},
}


def keyed(value: Any) -> Any:
    """Plain data of a result: keys as written above, figures with their unit beside them."""
    if isinstance(value, Figure):
        unit = units.KINDS[value.kind].si
        return {"value": value.value, "unit": unit, "low": value.low, "high": value.high}
    if isinstance(value, Mapping):
        return {name: keyed(one) for name, one in value.items()}
    if isinstance(value, tuple | list):
        return [keyed(one) for one in value]
    keys = KEYS.get(type(value))
    if keys is None:
        return value
    return {keys[one.name]: keyed(getattr(value, one.name)) for one in fields(value)}
