"""Measured values against predicted ones, and what a difference most likely means."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

import numpy as np

from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.measured import MEASURES, Measured
from plumbing.network import Survey
from plumbing.results import NotComputed
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.peak import peak_flow
from plumbing.simulation.peak_result import EnginePeak, Peak
from plumbing.studies.bench.meaning import Meaning, meaning_of, suspects
from plumbing.studies.bench.moved import Moved, Moves
from plumbing.studies.bench.predictions import predict
from plumbing.studies.bench.values import Mark, Marks, Prediction, Predictions

Verdict = Literal["inside", "above", "below", "not predicted", "no value"]


@frozen
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
    mark : Mark or None
        The limit of the reading, whatever was predicted; None where there is none.
    passes : bool or None
        Whether it meets that limit; None without a limit or value, and where it was read at less
        flow than the limit holds at.
    meaning : Meaning or None
        What the difference most likely means, with a value fitted to it.
    moved : tuple of Moved
        Other predictions that move if that is the cause.
    missing : tuple of NotComputed
        Where nothing was predicted: which results could not be computed.
    """

    measured: Measured
    value: Figure | None
    prediction: Prediction | None
    verdict: Verdict
    mark: Mark | None = None
    passes: bool | None = None
    meaning: Meaning | None = None
    moved: tuple[Moved, ...] = ()
    missing: tuple[NotComputed, ...] = ()

    @property
    def fails(self) -> bool:
        """Whether something is wrong: outside the band, or beyond the limit."""
        return self.verdict in ("above", "below") or self.passes is False


def compare(
    layout: Layout, survey: Survey, marks: Marks, measured: Iterable[Measured] = ()
) -> tuple[Compared, ...]:
    """Compare every measured value of a layout with what was to be expected.

    Parameters
    ----------
    layout, survey
        The layout, with values under `measured:`, and its survey.
    marks : Marks
        What the readings must meet.
    measured : iterable of Measured
        Readings that stand elsewhere than in the layout.

    Returns
    -------
    tuple of Compared
        In the order of the file, then the others.
    """
    cases = _Cases(layout, survey, marks)
    return tuple(_compared(cases, one) for one in (*layout.measured.values(), *measured))


class _Cases:
    """Predictions by the flow and temperature of a measurement, each computed once."""

    def __init__(self, layout: Layout, survey: Survey, marks: Marks) -> None:
        self.layout, self.survey = layout, survey
        self._known: dict[tuple[bool, float | None, float | None], _Case] = {}
        self.marks, self.moves = marks, Moves(layout, survey, marks)

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


@frozen
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
    part, kind = _place(case, measured), MEASURES[measured.what]
    prediction = case.predictions.find(measured.what, part, measured.state)
    mark = cases.marks.find(measured.what, part or (prediction.part if prediction else ""))
    written: float | None = getattr(measured, kind)
    if written is None:
        return Compared(measured, None, prediction, "no value", mark)
    value = Figure(written, kind)
    passes = None if mark is None else mark.met_by(written, measured.at_flow)
    if prediction is None:
        said = suspects(measured.what, True) if passes is False else None
        missing = case.predictions.missing
        return Compared(measured, value, None, "not predicted", mark, passes, said, missing=missing)
    verdict = _verdict(prediction.figure, written)
    if verdict == "inside" and passes is not False:
        return Compared(measured, value, prediction, "inside", mark, passes)
    said = meaning_of(
        measured.what,
        written > prediction.figure.value,
        written,
        prediction.figure,
        case.engine(prediction),
        case.density(),
        case.layout.filling.flow,
    )
    moved = () if verdict == "inside" else cases.moves.of(said)
    return Compared(measured, value, prediction, verdict, mark, passes, said, moved)


def _verdict(figure: Figure, value: float) -> Verdict:
    low = figure.value if figure.low is None else figure.low
    high = figure.value if figure.high is None else figure.high
    return "above" if value > high else "below" if value < low else "inside"


def _place(case: _Case, measured: Measured) -> str | None:
    """Part in the words of the predictions: suction and pump flow are told by the pump."""
    part = (measured.part or "").partition(".")[0] or None
    if measured.what in ("inlet-suction", "pump-flow"):
        for one in case.peak.engines.values():
            if part in (one.engine, one.pump, None):
                return one.pump
    return part
