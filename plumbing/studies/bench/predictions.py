"""What a bench test should show: values with their bands, before anything is measured."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

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

SHARE = 0.2  # how far fuel that stays, trapped air and pressures while filling may lie off [-]
VOLUME = 0.03  # how far the volume of a built tank may lie off [-]
_SMALL = 0.01  # share of a tank's fuel that may stay anyway [-]


@dataclass(frozen=True, slots=True)
class Prediction:
    """One value to be measured.

    Attributes
    ----------
    what : str
        As under `measured:` in a layout file, such as `inlet-suction`.
    part : str
        Where it is measured, or empty for the whole system.
    figure : Figure
        Value and band.
    how : str
        Conditions it holds for.
    """

    what: str
    part: str
    figure: Figure
    how: str


@dataclass(frozen=True, slots=True)
class Predictions:
    """All values that can be predicted, and what they were computed from.

    Attributes
    ----------
    values : tuple of Prediction
        In the order in which they are measured on the bench.
    run : Flown or NotComputed
        The drain-down, aircraft level.
    fillings : Results of Filled
        Fillings.
    missing : tuple of NotComputed
        Why values are not predicted.
    """

    values: tuple[Prediction, ...]
    run: Flown | NotComputed
    fillings: Results[Filled]
    missing: tuple[NotComputed, ...]

    def find(self, what: str, part: str | None) -> Prediction | None:
        """Prediction of that name; without a part the only one, or the largest."""
        named = [one for one in self.values if one.what == what]
        exact = [one for one in named if one.part == (part or "")]
        if exact:
            return exact[0]
        if part:
            return named[0] if len(named) == 1 and not named[0].part else None
        return max(named, key=lambda one: one.figure.value, default=None)


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
            *_siphons(parkings),
        )
    return Predictions(values, run, filled, tuple(dict.fromkeys(missing)))


def _band(value: float, kind: str, share: float, more: float = 0.0) -> Figure:
    reach = share * abs(value) + more
    return Figure(value, kind, max(value - reach, 0.0), value + reach)


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
        figure = _band(filled.on_board, "volume", VOLUME)
        yield Prediction("fill-volume", filled.port, figure, how)
    done = [filled for filled in fillings if not filled.why_not]
    if done:
        figure = _band(sum(filled.on_board for filled in done), "volume", VOLUME)
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
        yield Prediction("drain-time", tank, _band(time, "time", share), how)
    yield Prediction("drain-time", "", _band(run.endurance, "time", share), how)
    held = dict(zip(run.dry_run.tanks, run.dry_run.volume[0], strict=True))
    for tank, left in run.stranded.items():
        figure = _band(left, "volume", SHARE, _SMALL * float(held[tank]))
        yield Prediction("left-over", tank, figure, how)
    left = sum(run.stranded.values())
    figure = _band(left, "volume", SHARE, _SMALL * run.on_board)
    yield Prediction("left-over", "", figure, how)
    for header, air in run.header_air.items():
        figure = _band(air, "volume", SHARE, _SMALL * float(held[header]))
        yield Prediction("header-air", header, figure, "after the first minute of the drain-down")


def _flows(layout: Layout, peak: Peak) -> Iterator[Prediction]:
    for one in peak.engines.values():
        reached = one.flow_available
        pump = layout.pumps.get(one.pump)
        if pump is None or not known(reached):
            continue
        if pump.cap_flow is not None:
            reached = min(reached, pump.cap_flow)
        figure = _band(reached, "flow", layout.tolerances.flow)
        yield Prediction("pump-flow", one.pump, figure, "full voltage, through its own feed line")


def _siphons(parkings: Parkings | NotComputed) -> Iterator[Prediction]:
    if not known(parkings):
        return
    for parked in parkings.attitudes.values():
        for way in parked.ways:
            lost = parked.lost.get(way.outlet)
            figure = _band(lost.rate if lost else 0.0, "flow", SHARE, 1e-9)
            how = f"{parked.name}, vent line full of fuel: {_STATES[way.state]}"
            yield Prediction("siphon-rate", way.outlet, figure, how)


_STATES = {
    "dry": "the vent port stands in air",
    "above": "the outlet is higher than the fuel",
    "runs": "fuel runs out by itself",
    "siphons": "it runs once the line is full",
    "held": "no air gets in behind it",
    "capped": "capped",
}


def friction(peak: EnginePeak) -> float:
    """Losses along the suction side at the flow computed, without heads of fuel [Pa]."""
    return sum(one.drop.value for one in peak.elements)
