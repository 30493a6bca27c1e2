"""A flight as curves: fuel in the tanks, suction, header air, centre of gravity."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from plumbing.drawing.charts import Limit, Series, chart, stacked
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array
from plumbing.simulation.flight_result import Flown, History

_MINUTE = 60.0
_AXIS = "time [min]"
_MOST_PHASES = 14  # more are not named: the figures of an aerobatic flight would be a smear


def flight_plot(layout: Layout, flown: Flown, dry_run: bool = False) -> str:
    """Draw the history of a flight, one chart below the other.

    Parameters
    ----------
    layout : Layout
        For the roles of tanks and the limits.
    flown : Flown
        The flight.
    dry_run : bool
        The run until the engines stop, instead of the stated flight.

    Returns
    -------
    str
        SVG text.
    """
    history = flown.dry_run if dry_run else flown.history
    minutes = history.time / _MINUTE
    bands = [] if dry_run else _phases(flown)

    def curves(names: Sequence[str], values: Array, axis: str, title: str) -> str:
        """One chart of a curve for each name."""
        series = [Series(name, minutes, values[:, n]) for n, name in enumerate(names)]
        return chart(series, _AXIS, axis, title=title, bands=bands, zero=True)

    charts = [
        curves(history.tanks, 1e6 * history.volume, "fuel [ml]", "Fuel in each tank"),
        curves(
            [f"at {name}" for name in history.pumps],
            1e-3 * history.suction,
            "suction [kPa]",
            "Suction at the pump inlet",
        ),
        curves(
            [f"in {name}" for name in history.tanks],
            1e-3 * history.pressure,
            "gauge pressure [kPa]",
            "Pressure in each tank's gas space",
        ),
        *_balance(layout, history, bands),
    ]
    return stacked(charts, f"Flight: {flown.profile.name}")


def _phases(flown: Flown) -> list[tuple[float, float, str]]:
    """Stretches of one phase, where there are few enough to name."""
    profile = flown.profile
    ends = profile.duration.cumsum() / _MINUTE
    last = float(flown.history.time[-1]) / _MINUTE
    bands = []
    start = 0.0
    for name, group in groupby(zip(profile.phase, ends, strict=True), key=lambda pair: pair[0]):
        stop = min([float(end) for _, end in group][-1], last)
        bands.append((start, stop, name))
        start = stop
    return bands if len(bands) <= _MOST_PHASES else []


def _balance(layout: Layout, history: History, bands: list[tuple[float, float, str]]) -> list[str]:
    if history.cg is None:
        return []
    names = ("forward limit", "aft limit")
    edges = zip(names, layout.aircraft.cg_limits or (), strict=False)
    return [
        chart(
            [Series("centre of gravity", history.time / _MINUTE, 1e3 * history.cg[:, 0])],
            _AXIS,
            "x [mm]",
            title="Centre of gravity, fuel as it lies",
            limits=[Limit(name, 1e3 * edge) for name, edge in edges],
            bands=bands,
        )
    ]
