"""What a bench test should show: values with their bands, before anything is measured."""

from __future__ import annotations

from collections.abc import Iterator

from plumbing.findings import Figure
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.results import NotComputed, Results, known, listening, result_of
from plumbing.simulation.filling import fill_all
from plumbing.simulation.filling_result import Filled
from plumbing.simulation.flight_result import Flown
from plumbing.simulation.parking import park
from plumbing.simulation.parking_result import Parkings
from plumbing.simulation.peak_result import EnginePeak, Peak
from plumbing.studies.bench.rundown import rundown
from plumbing.studies.bench.still import balances, drawn, heated, siphons
from plumbing.studies.bench.values import SHARE, VOLUME, Prediction, Predictions, band

_SMALL = 0.01  # share of a tank's fuel that may stay anyway [-]


def predict(
    layout: Layout,
    survey: Survey,
    peak: Peak,
    *,
    flow: float | None = None,
    parkings: Parkings | NotComputed | None = None,
    fillings: Results[Filled] | None = None,
) -> Predictions:
    """Predict the bench tests.

    Parameters
    ----------
    layout, survey, peak
        The layout, its survey, and peak flow at the flow asked for.
    flow : float, optional
        Flow of all pumps together in the drain-down [m3/s]; full flow by default.
    parkings, fillings
        Results there are already; computed where not given.
    """
    run = rundown(layout, survey, flow)
    filled = fill_all(layout, survey) if fillings is None else fillings
    if parkings is None:
        parkings = result_of("parking", lambda: park(layout, survey))
    with listening() as missing:
        values = (
            *_filled(tuple(filled.values())),
            *_suctions(layout, peak, run),
            *_run_out(layout, run, flow),
            *_flows(layout, peak),
            *drawn(layout, survey, peak),
            *siphons(parkings),
            *heated(parkings),
            *balances(layout, survey),
        )
    return Predictions(values, run, filled, tuple(dict.fromkeys(missing)))


def _filled(fillings: tuple[Filled, ...]) -> Iterator[Prediction]:
    for filled in fillings:
        if filled.why_not:
            continue
        litres = 6e4 * filled.flow
        how = f"through {filled.port} at {litres:.2g} L/min until fuel runs steadily"
        for tank in filled.tanks.values():
            low = (1.0 - SHARE) * tank.pressure_before
            high = (1.0 + SHARE) * tank.pressure
            figure = Figure(tank.pressure, "pressure", low, high)
            yield Prediction("fill-pressure", tank.tank, figure, how)
        figure = band(filled.on_board, "volume", VOLUME)
        yield Prediction("fill-volume", filled.port, figure, how)
    done = [filled for filled in fillings if not filled.why_not]
    if len(done) > 1:
        figure = band(sum(filled.on_board for filled in done), "volume", VOLUME)
        yield Prediction("fill-volume", "", figure, "all tanks, from empty")


def _suctions(layout: Layout, peak: Peak, run: Flown | NotComputed) -> Iterator[Prediction]:
    for one in peak.engines.values():
        figure = one.suction
        low = figure.value if figure.low is None else figure.low
        if known(run) and one.pump in run.dry_run.pumps:
            place = run.dry_run.pumps.index(one.pump)
            full = float(run.dry_run.suction[0, place])
            low = min(low, full - (figure.value - low))
        figure = Figure(figure.value, "pressure", low, figure.high)
        celsius = layout.fuel.temperature.usual
        how = f"at {6e7 * one.flow:.0f} ml/min and {celsius:g} degC, from full tanks to the last"
        yield Prediction("inlet-suction", one.pump, figure, how)


def _run_out(layout: Layout, run: Flown | NotComputed, flow: float | None) -> Iterator[Prediction]:
    if not known(run):
        return
    share = VOLUME if flow is not None else layout.tolerances.flow
    rate = flow or layout.full_flow
    how = f"full tanks, aircraft level, {6e7 * rate:.0f} ml/min through all pumps together"
    for tank, time in run.order:
        yield Prediction("drain-time", tank, band(time, "time", share), how)
    yield Prediction("drain-time", "", band(run.endurance, "time", share), how)
    held = dict(zip(run.dry_run.tanks, run.dry_run.volume[0], strict=True))
    for tank, left in run.stranded.items():
        figure = band(left, "volume", SHARE, _SMALL * float(held[tank]))
        yield Prediction("left-over", tank, figure, how)
    left = sum(run.stranded.values())
    figure = band(left, "volume", SHARE, _SMALL * run.on_board)
    yield Prediction("left-over", "", figure, how)
    for header, air in run.header_air.items():
        figure = band(air, "volume", SHARE, _SMALL * float(held[header]))
        yield Prediction("header-air", header, figure, "after the first minute of the drain-down")


def _flows(layout: Layout, peak: Peak) -> Iterator[Prediction]:
    for one in peak.engines.values():
        reached = one.flow_available
        pump = layout.pumps.get(one.pump)
        if pump is None or not known(reached):
            continue
        if pump.cap_flow is not None:
            reached = min(reached, pump.cap_flow)
        figure = band(reached, "flow", layout.tolerances.flow)
        yield Prediction("pump-flow", one.pump, figure, "full voltage, through its own feed line")


def friction(peak: EnginePeak) -> float:
    """Losses along the suction side at the flow computed, without heads of fuel [Pa]."""
    return sum(one.drop.value for one in peak.elements)
