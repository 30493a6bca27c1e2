"""Measured values against predicted ones, and what a difference most likely means."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from plumbing.findings import Figure
from plumbing.model.ground import Measured
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.results import NotComputed
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.peak import peak_flow
from plumbing.simulation.peak_result import EnginePeak, Peak
from plumbing.studies.bench.meaning import Meaning, meaning_of
from plumbing.studies.bench.predictions import Prediction, Predictions, predict

Verdict = Literal["inside", "above", "below", "not predicted", "no value"]
_FIELDS = {"pressure": "pressure", "volume": "volume", "time": "time", "flow": "flow"}


@dataclass(frozen=True, slots=True)
class Compared:
    """One measurement beside its prediction.

    Attributes
    ----------
    measured : Measured
        As written in the file.
    value : Figure or None
        Its value; None where the file gives none of the right kind.
    prediction : Prediction or None
        What was expected; None where nothing can be predicted.
    verdict : str
        inside, above, below, not predicted, no value.
    meaning : Meaning or None
        What the difference most likely means, with a value fitted to it.
    missing : tuple of NotComputed
        Where nothing was predicted: which results could not be computed.
    """

    measured: Measured
    value: Figure | None
    prediction: Prediction | None
    verdict: Verdict
    meaning: Meaning | None = None
    missing: tuple[NotComputed, ...] = ()


def compare(layout: Layout, survey: Survey) -> tuple[Compared, ...]:
    """Compare every measured value of a layout with what was to be expected.

    Parameters
    ----------
    layout, survey
        The layout, with values under `measured:`, and its survey.

    Returns
    -------
    tuple of Compared
        In the order of the file.
    """
    cases = _Cases(layout, survey)
    return tuple(_compared(cases, one) for one in layout.measured.values())


class _Cases:
    """Predictions by the flow and temperature of a measurement, each computed once."""

    def __init__(self, layout: Layout, survey: Survey) -> None:
        self.layout, self.survey = layout, survey
        self._known: dict[tuple[bool, float | None, float | None], _Case] = {}

    def at(self, measured: Measured) -> _Case:
        """Layout, peak flow and predictions under the conditions of a measurement."""
        filling = measured.what.startswith("fill")
        key = (filling, measured.at_flow, measured.temperature)
        if key not in self._known:
            self._known[key] = self._made(measured, filling)
        return self._known[key]

    def _made(self, measured: Measured, filling: bool) -> _Case:
        layout, flow = self.layout, measured.at_flow
        if measured.temperature is not None:
            warm = replace(layout.fuel.temperature, usual=measured.temperature)
            layout = replace(layout, fuel=replace(layout.fuel, temperature=warm))
        if flow is not None and filling:
            layout = replace(layout, filling=replace(layout.filling, flow=flow))
        elif flow is not None:
            layout = _at_flow(layout, flow)
        total = layout.full_flow
        peak = peak_flow(layout, self.survey)
        stated = total if flow is not None and not filling else None
        return _Case(layout, peak, predict(layout, self.survey, peak, flow=stated))


def _at_flow(layout: Layout, flow: float) -> Layout:
    """Every engine at the flow of a measurement, which is that through one pump."""
    engines = {name: replace(one, full_flow=flow) for name, one in layout.engines.items()}
    return replace(layout, engines=engines)


@dataclass(frozen=True, slots=True)
class _Case:
    """One set of conditions."""

    layout: Layout
    peak: Peak
    predictions: Predictions

    def engine(self, prediction: Prediction) -> EnginePeak | None:
        """Engine a prediction belongs to."""
        engines = self.peak.engines.values()
        return next((one for one in engines if prediction.part in (one.pump, one.engine)), None)

    def density(self) -> float:
        """Of the fuel [kg/m3]."""
        celsius = np.array([self.layout.fuel.temperature.usual])
        return float(fluids_at(self.layout, celsius).liquid_density[0])


def _compared(cases: _Cases, measured: Measured) -> Compared:
    case = cases.at(measured)
    part = _place(case, measured)
    prediction = case.predictions.find(measured.what, part)
    if prediction is None:
        missing = case.predictions.missing
        value = _value(measured, None)
        return Compared(measured, value, None, "not predicted", missing=missing)
    value = _value(measured, prediction.figure.kind)
    if value is None:
        return Compared(measured, None, prediction, "no value")
    low = prediction.figure.value if prediction.figure.low is None else prediction.figure.low
    high = prediction.figure.value if prediction.figure.high is None else prediction.figure.high
    if low <= value.value <= high:
        return Compared(measured, value, prediction, "inside")
    verdict: Verdict = "above" if value.value > high else "below"
    said = meaning_of(
        measured.what,
        verdict == "above",
        value.value,
        prediction.figure,
        case.engine(prediction),
        case.density(),
        _narrowest_vent(case.layout),
    )
    return Compared(measured, value, prediction, verdict, said)


def _place(case: _Case, measured: Measured) -> str | None:
    """Part in the words of the predictions: suction and pump flow are told by the pump."""
    part = (measured.part or "").partition(".")[0] or None
    if measured.what in ("inlet-suction", "pump-flow"):
        for one in case.peak.engines.values():
            if part in (one.engine, one.pump, None):
                return one.pump
    return part


def _value(measured: Measured, kind: str | None) -> Figure | None:
    for name, quantity in _FIELDS.items():
        value = getattr(measured, name)
        if value is not None and kind in (None, quantity):
            return Figure(float(value), quantity)
    return None


def _narrowest_vent(layout: Layout) -> float | None:
    """Narrowest bore of any outlet [m]."""
    return min((outlet.bore for outlet in layout.outlets.values()), default=None)
