"""Filling, parking and faults as JSON: stable names, SI values with the unit in the name."""

from __future__ import annotations

from typing import Any

from plumbing.report.ground_schema import (
    faults_schema,
    fill_schema,
    filled_schema,
    park_schema,
)
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.words import reasons
from plumbing.simulation.filling_result import Filled
from plumbing.simulation.fuelling import Fuelling
from plumbing.simulation.parking_result import Parkings
from plumbing.studies.fault_result import Faults


def fill_json(fuelling: Fuelling) -> str:
    """Write filling and draining; values in SI."""
    data = {
        "filling": {name: _filled(one) for name, one in fuelling.filled.items()},
        "draining": fuelling.drained,
        "not_computed": reasons(fuelling.filled.missing, fuelling.drained.missing),
        "partial": fuelling.partial,
    }
    return json_text(keyed(data, fill_schema()))


def park_json(parkings: Parkings) -> str:
    """Write attitudes, those around level, and vents; values in SI."""
    data = {
        "attitudes": parkings.attitudes,
        "around_level": parkings.around,
        "vents": parkings.vents,
        "not_computed": reasons(parkings.attitudes.missing),
    }
    return json_text(keyed(data, park_schema()))


def faults_json(faults: Faults) -> str:
    """Write every single fault, worst first; values in SI."""
    return json_text(keyed(faults, faults_schema()))


def _filled(one: Filled) -> dict[str, Any]:
    volume = dict(zip(one.names, one.volume.T, strict=True))
    filled: dict[str, Any] = keyed(one, filled_schema(), volume_m3=volume, full_s=one.duration)
    return filled
