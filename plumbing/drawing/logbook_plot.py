"""The logbook as curves: flow of each flight, and readings over the hours with their trend."""

from __future__ import annotations

from collections.abc import Iterator

from plumbing.drawing.charts import Limit, Series, chart, stacked
from plumbing.results import known
from plumbing.studies.logbook import Logged, Trend
from plumbing.studies.logbook.burn import flows
from plumbing.units import KINDS, in_unit


def logbook_plot(found: Logged) -> str:
    """Draw every chart of a logbook, one below the other, as SVG text."""
    return stacked([svg for _, svg in logbook_charts(found)], "Logbook")


def logbook_charts(found: Logged) -> list[tuple[str, str]]:
    """Charts of a logbook, each with its title; none where two readings are nowhere."""
    return [*_flow(found), *(_trend(one) for one in found.trends if len(one.values) > 1)]


def _flow(found: Logged) -> Iterator[tuple[str, str]]:
    seen = flows(found.entries)
    if len(seen) < 2:
        return
    title = "Mean flow of each flight"
    numbers = [float(number) for number in range(1, len(seen) + 1)]
    flown = Series("as flown", numbers, [in_unit(flow, "flow", "ml/min") for _, flow in seen])
    limits = []
    if known(found.burn):
        stated = (("mean", found.burn.flow.value), ("predicted", found.burn.predicted))
        limits = [Limit(name, in_unit(flow, "flow", "ml/min")) for name, flow in stated]
    yield title, chart([flown], "flight", "flow [ml/min]", title=title, limits=limits, zero=True)


def _trend(one: Trend) -> tuple[str, str]:
    unit = KINDS[one.kind].shown
    title = f"{one.what[:1].upper()}{one.what[1:]}{f': {one.part}' if one.part else ''}"

    def shown(value: float) -> float:
        return in_unit(value, one.kind, unit)

    curves = [Series("read", one.hours, [shown(value) for value in one.values])]
    if one.line is not None:
        ends = (one.hours[0], one.hours[-1])
        curves.append(Series("trend", ends, [shown(one.line.start), shown(one.line.end)]))
    bounds = (("least", one.least), ("most", one.most))
    limits = [Limit(name, shown(value)) for name, value in bounds if value is not None]
    axis = f"{one.what.partition(' at ')[0]} [{unit}]"
    return title, chart(curves, "run [h]", axis, title=title, limits=limits)
