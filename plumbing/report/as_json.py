"""Results as JSON: stable names, SI values with their unit, never a not-a-number."""

from typing import Any

from plumbing import units
from plumbing.checks.run import Examined
from plumbing.findings import Figure, Finding
from plumbing.report.fly_json import fly_data
from plumbing.report.json_text import json_text
from plumbing.report.words import reasons
from plumbing.results import known
from plumbing.simulation.peak_result import ElementDrop, EnginePeak, Worst

FORMAT = "plumbing-check/1"


def check_json(examined: Examined) -> str:
    """Write the findings and results of a check.

    Returns
    -------
    str
        JSON text; every value is SI with its unit beside it.
    """
    return json_text(check_data(examined))


def check_data(examined: Examined) -> dict[str, Any]:
    """Give the same as plain data."""
    layout, verdict, peak = examined.case.layout, examined.verdict, examined.case.peak
    flight = examined.case.flight
    return {
        "format": FORMAT,
        "title": layout.title,
        "file": layout.place.file,
        "findings": [_finding(finding) for finding in verdict.findings],
        "unchecked": [
            {
                "check": one.check,
                "missing": one.missing,
                "why": "" if one.why is None else str(one.why),
                "part": one.part,
                "line": one.place.line,
            }
            for one in verdict.unchecked
        ],
        "clear": list(verdict.clear),
        "peak_flow": {name: _engine(one) for name, one in peak.engines.items()},
        "not_computed": reasons(verdict.not_computed),
        "flight": fly_data(flight) if known(flight) else None,
        "assumptions": [
            {"what": one.what, "value": one.value, "source": one.source}
            for one in examined.case.assumptions
        ],
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.check,
        "severity": finding.severity.value,
        "part": finding.part,
        "parts": list(finding.parts),
        "file": finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
        "what": finding.what,
        "measured": _figure(finding.measured),
        "allowed": _figure(finding.allowed),
        "uncertain": finding.uncertain,
        "source": finding.source,
        "why": finding.why,
        "advice": finding.advice,
        "remedies": [
            {"change": one.change, "buys": one.buys, "costs": one.costs} for one in finding.remedies
        ],
    }


def _figure(figure: Figure | None) -> dict[str, Any] | None:
    if figure is None:
        return None
    unit = units.KINDS[figure.kind].si
    return {"value": figure.value, "unit": unit, "low": figure.low, "high": figure.high}


def _worst(worst: Worst) -> dict[str, Any]:
    return {
        "suction": _figure(worst.suction),
        "fuel_degC": worst.celsius,
        "load": worst.load,
        "filters": worst.filters,
    }


def _element(one: ElementDrop) -> dict[str, Any]:
    return {
        "line": one.line,
        "part": one.part,
        "what": one.what,
        "bore_m": one.bore,
        "flow_m3_s": one.flow,
        "velocity_m_s": one.velocity,
        "reynolds": one.reynolds,
        "drop": _figure(one.drop),
        "share": one.share,
    }


def _engine(peak: EnginePeak) -> dict[str, Any]:
    return {
        "pump": peak.pump,
        "flow_m3_s": peak.flow,
        "suction": _figure(peak.suction),
        "coldest": _worst(peak.coldest),
        "loaded": _worst(peak.loaded),
        "dirty": _worst(peak.dirty),
        "elements": [_element(one) for one in peak.elements],
        "released": _figure(peak.released),
        "pump_height_m": peak.pump_height,
        "header": peak.header,
        "header_seconds": peak.header_seconds,
        "tank_pressures": {name: _figure(one) for name, one in peak.tank_pressures.items()},
        "pickup_drops_Pa": {name: list(pair) for name, pair in peak.pickup_drops.items()},
        "filter_drops_Pa": {name: list(pair) for name, pair in peak.filter_drops.items()},
        "delivery": [_element(one) for one in peak.delivery],
        "head_needed": _figure(peak.head_needed) if known(peak.head_needed) else None,
        "head_available_Pa": peak.head_available if known(peak.head_available) else None,
        "flow_available_m3_s": peak.flow_available if known(peak.flow_available) else None,
    }
