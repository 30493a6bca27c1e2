"""Predictions for tests in which little flows: tanks drawn on, parked, warmed, weighed."""

from __future__ import annotations

from collections.abc import Iterator

from plumbing.findings import Figure
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.results import NotComputed, known
from plumbing.simulation.balance import states
from plumbing.simulation.parking_result import Parkings
from plumbing.simulation.peak_result import Peak
from plumbing.studies.bench.values import SHARE, VOLUME, Prediction, band

UNPORTED = 5.0  # how long a pickup is held out of the fuel [s]; common practice
_SUCTION = 100.0  # suction of a tank that a gauge hardly shows [Pa]
_STATES = {
    "dry": "the vent port stands in air",
    "above": "the outlet is higher than the fuel",
    "runs": "fuel runs out by itself",
    "siphons": "it runs once the line is full",
    "held": "no air gets in behind it",
    "capped": "capped",
}


def drawn(layout: Layout, survey: Survey, peak: Peak) -> Iterator[Prediction]:
    """Suction in each vented tank at full flow, and air in a header whose supply stops."""
    worst: dict[str, float] = {}
    for engine in peak.engines.values():
        for tank, pressure in engine.tank_pressures.items():
            worst[tank] = max(worst.get(tank, 0.0), -pressure.value)
    for tank in layout.tanks:
        if tank in survey.vented and tank in worst:
            figure = band(worst[tank], "pressure", SHARE, _SUCTION)
            yield Prediction("vent-suction", tank, figure, "every pump at full flow, level")
    for engine in peak.engines.values():
        if engine.header:
            share = layout.tolerances.flow
            figure = band(UNPORTED * engine.flow, "volume", share)
            how = f"pickup before it held out of the fuel for {UNPORTED:g} s at full flow"
            yield Prediction("unported-air", engine.header, figure, how)


def siphons(parkings: Parkings | NotComputed) -> Iterator[Prediction]:
    """Flow out of each outlet in each attitude."""
    if not known(parkings):
        return
    for parked in parkings.attitudes.values():
        for way in parked.ways:
            lost = parked.lost.get(way.outlet)
            figure = band(lost.rate if lost else 0.0, "flow", SHARE, 1e-9)
            how = f"{parked.name}, vent line full of fuel: {_STATES[way.state]}"
            yield Prediction("siphon-rate", way.outlet, figure, how)


def heated(parkings: Parkings | NotComputed) -> Iterator[Prediction]:
    """Fuel that warms and runs out, at the place where most does."""
    if not known(parkings):
        return
    open_ = [one for one in parkings.attitudes.values() if not one.capped]
    worst = max(open_, key=lambda one: (one.warmed.spilt, one.on_board), default=None)
    if worst is not None and worst.on_board > 0.0:
        heat = worst.warmed
        figure = band(heat.spilt, "volume", SHARE, VOLUME * heat.grown)
        how = (
            f"{worst.name}, vents open, warmed from {heat.celsius_from:g} to "
            f"{heat.celsius_to:g} degC"
        )
        yield Prediction("heat-loss", "", figure, how)


def balances(layout: Layout, survey: Survey) -> Iterator[Prediction]:
    """Mass and centre of gravity on the scales at each step of the feed order, gear down."""
    dry = layout.aircraft.dry_mass or 0.0
    near = layout.tolerances.position
    for one in states(layout, survey.order.steps):
        if one.gear_up:
            continue
        how = "level on its wheels, gear down"
        figure = band(one.mass, "mass", 0.0, VOLUME * (one.mass - dry))
        yield Prediction("mass", "", figure, how, one.what)
        x = one.cg[0]
        yield Prediction("cg", "", Figure(x, "length", x - near, x + near), how, one.what)
