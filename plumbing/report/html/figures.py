"""Charts of the page: ids of their own, and where the time axis lies, for the slider's cursor."""

from __future__ import annotations

import re
from collections.abc import Sequence

from plumbing import units
from plumbing.checks.case import Case
from plumbing.checks.limits import limits_in_force
from plumbing.drawing.charts import Limit, Series, chart
from plumbing.drawing.logbook_plot import logbook_charts
from plumbing.drawing.stairs import stair
from plumbing.drawing.text import clean
from plumbing.frozen import frozen
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import History
from plumbing.studies.logbook import Logged

_MINUTE = 60.0
_SIZE = re.compile(r' width="[0-9.]+mm" height="[0-9.]+mm"')
_LIMIT_OF = "inlet-suction-too-high"
_LEAST_AIR = 0.05  # less air than this is none [ml]
_SMALL = 0.02  # share of the sum below which an element is not shown by itself


@frozen
class Chart:
    """A drawn chart with what to say of it.

    Attributes
    ----------
    title : str
        What it shows, for those who cannot see it.
    svg : str
        SVG element.
    timed : bool
        Whether its axis is the time of the stated flight.
    """

    title: str
    svg: str
    timed: bool = False


def _placed(svg: str) -> str:
    """Without a size of its own, so that the page decides."""
    return _SIZE.sub("", svg, count=1)


def flight_charts(case: Case) -> list[Chart]:
    """Fuel, suction, header air and centre of gravity over the stated flight."""
    flown = case.flight
    if not known(flown):
        return []
    history = flown.history
    minutes = history.time / _MINUTE
    fuel = [Series(n, minutes, 1e6 * history.volume[:, k]) for k, n in enumerate(history.tanks)]
    drawn = [Series(n, minutes, 1e-3 * history.suction[:, k]) for k, n in enumerate(history.pumps)]
    charts = [
        _timed(fuel, "fuel [ml]", "Fuel in each tank", zero=True),
        _timed(drawn, "suction [kPa]", "Suction at the pump inlet", zero=True),
    ]
    air = _header_air(case, history)
    if air:
        charts.append(_timed(air, "air [ml]", "Air in the header", zero=True))
    if history.cg is not None:
        limits = case.layout.aircraft.cg_limits or ()
        edges = zip(("forward limit", "aft limit"), limits, strict=False)
        lines = [Limit(name, 1e3 * edge) for name, edge in edges]
        cg = [Series("centre of gravity", minutes, 1e3 * history.cg[:, 0])]
        charts.append(_timed(cg, "x [mm]", "Centre of gravity, fuel as it lies", lines))
    return charts


def _timed(
    series: list[Series],
    label: str,
    title: str,
    limits: Sequence[Limit] = (),
    zero: bool = False,
) -> Chart:
    svg = chart(series, "time [min]", label, title=title, limits=limits, zero=zero)
    return Chart(title, _placed(svg), timed=True)


def _header_air(case: Case, history: History) -> list[Series]:
    minutes = history.time / _MINUTE
    found = []
    for place, name in enumerate(history.tanks):
        if case.layout.tanks[name].role == "header":
            held = history.volume[:, place]
            air = 1e6 * (held.max() - held)
            if air.max() > _LEAST_AIR:
                found.append(Series(f"in {name}", minutes, air))
    return found


def logged_charts(found: Logged | NotComputed) -> list[Chart]:
    """Charts of the logbook; none where there is no logbook."""
    if isinstance(found, NotComputed):
        return []
    return [Chart(title, _placed(svg)) for title, svg in logbook_charts(found)]


def stairs(case: Case) -> list[Chart]:
    """Stair of drops along the worst path of every engine."""
    limits = limits_in_force(case.layout)
    allowed = limits.get(_LIMIT_OF)
    limit = (
        None if not allowed else Limit(f"limit {units.show(allowed, 'pressure')}", allowed / 1e3)
    )
    charts = []
    for peak in case.peak.engines.values():
        large = [one for one in peak.elements if abs(one.share) >= _SMALL]
        labels = [f"{one.line or one.part}: {one.what}" for one in large]
        drops = [1e-3 * one.drop.value for one in large]
        rest = [1e-3 * one.drop.value for one in peak.elements if abs(one.share) < _SMALL]
        if rest:
            labels, drops = [*labels, f"{len(rest)} smaller ones"], [*drops, sum(rest)]
        head = peak.suction.value / 1e3 - sum(drops)
        title = f"From tank to pump at full flow: {clean(peak.engine)}"
        svg = stair([*labels, "head of fuel and gas"], [*drops, head], title=title, limit=limit)
        charts.append(Chart(title, _placed(svg)))
    return charts
