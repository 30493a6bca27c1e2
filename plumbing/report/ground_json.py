"""Filling, parking and faults as JSON: stable names, SI values with the unit in the name."""

from __future__ import annotations

from typing import Any

from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.words import reasons
from plumbing.simulation.filling_result import Filled, SafeFlow
from plumbing.simulation.fuelling import Fuelling
from plumbing.simulation.parking_result import Parkings
from plumbing.studies.fault_result import Faults, Outcome

FILL, PARK, FAULTS = "plumbing-fill/1", "plumbing-park/1", "plumbing-faults/1"


def fill_json(fuelling: Fuelling) -> str:
    """Write filling and draining; values in SI."""
    return json_text(
        {
            "format": FILL,
            "filling": {name: _filled(one) for name, one in fuelling.filled.items()},
            "draining": {
                name: {**keyed(one), "left_share": one.left_share}
                for name, one in fuelling.drained.items()
            },
            "not_computed": reasons(fuelling.filled.missing, fuelling.drained.missing),
        }
    )


def park_json(parkings: Parkings) -> str:
    """Write attitudes, those around level, and vents; values in SI."""
    around = parkings.around
    return json_text(
        {
            "format": PARK,
            "attitudes": {name: keyed(one) for name, one in parkings.attitudes.items()},
            "around_level": {
                "pitch_rad": around.pitch,
                "roll_rad": around.roll,
                "loss_m3": around.loss,
                "runs_m3": around.runs,
                "over_engine_m": around.head,
            },
            "vents": keyed(parkings.vents),
            "not_computed": reasons(parkings.attitudes.missing),
        }
    )


def faults_json(faults: Faults) -> str:
    """Write every single fault, worst first; values in SI."""
    return json_text(
        {
            "format": FAULTS,
            "flight": faults.flight,
            "assumed": faults.assumed,
            "duration_s": faults.duration,
            "take_off_s": faults.take_off,
            "dry_without_a_fault_s": dict(faults.nominal_stops),
            "faults": [_outcome(one) for one in faults.outcomes],
        }
    )


def _filled(one: Filled) -> dict[str, Any]:
    return {
        "port": one.port,
        "flow_m3_s": one.flow,
        "flow_assumed": one.assumed,
        "why_not": one.why_not,
        "time_s": one.time,
        "pushed_in_m3": one.litres,
        "volume_m3": dict(zip(one.names, one.volume.T, strict=True)),
        "tanks": {name: keyed(tank) for name, tank in one.tanks.items()},
        "spills": [keyed(spill) for spill in one.spills],
        "port_pressure_Pa": one.port_pressure,
        "pump_limits_m3_s": one.pump_limits,
        "closed_pressure_Pa": one.closed_pressure,
        "safe_flow": None if one.safe is None else _safe(one.safe, one.names),
        "reversed_filters": list(one.reversed_filters),
        "reversed_pickups": list(one.reversed_pickups),
        "pushed_to_engines": [keyed(pushed) for pushed in one.pushed],
    }


def _safe(safe: SafeFlow, names: tuple[str, ...]) -> dict[str, Any]:
    return {
        "highest_m3_s": safe.highest,
        "tank": safe.tank,
        "flow_m3_s": safe.flow,
        "pressure_Pa": dict(zip(names, safe.pressure.T, strict=True)),
        "port_pressure_Pa": safe.port,
    }


def _outcome(one: Outcome) -> dict[str, Any]:
    return {
        "kind": one.fault.kind,
        "part": one.fault.part,
        "what": one.fault.what,
        "noticed": one.fault.noticed,
        "severity": None if one.severity is None else one.severity.value,
        "does": one.does,
        "phase": one.phase,
        "stops_s": dict(one.stops),
        "first_air_s": dict(one.first_air),
        "folds_s": dict(one.folds),
        "suction_Pa": dict(one.suction),
        "suction_change_Pa": one.suction_change,
        "tank_suction_Pa": dict(one.tank_suction),
        "stranded_m3": one.stranded,
        "short_m3": one.short,
    }
