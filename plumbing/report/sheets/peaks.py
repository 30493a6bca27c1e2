"""Peak flow as tables: suction at every pump, and the drops along the worst path."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from plumbing.findings import Figure
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.results import known
from plumbing.simulation.peak_result import ElementDrop, EnginePeak, Peak

KILO, MILLI = 1e-3, 1e3
ML_PER_MIN = 6e7
_SUCTION = (
    Column("engine"),
    Column("pump"),
    Column("case"),
    Column("flow", "ml/min"),
    Column("suction", "kPa", 2),
    Column("at least", "kPa", 2),
    Column("at most", "kPa", 2),
    Column("fuel", "degC", 0),
)
_DROPS = (
    Column("step"),
    Column("line or part"),
    Column("element"),
    Column("bore", "mm", 2),
    Column("flow", "ml/min"),
    Column("velocity", "m/s", 2),
    Column("Reynolds number"),
    Column("drop", "kPa", 3),
    Column("at least", "kPa", 3),
    Column("at most", "kPa", 3),
    Column("share", "%", 1),
)
_WORST = (
    Column("worst fuel", "kPa", 3),
    Column("under load", "kPa", 3),
    Column("filters due", "kPa", 3),
)
_FACTS = (
    Column("engine"),
    Column("pump inlet over the lowest level", "mm"),
    Column("air set free at most", "%", 2),
    Column("header lasts", "s", 1),
    Column("pressure needed", "kPa", 1),
    Column("pressure available", "kPa", 1),
    Column("flow the pump reaches", "ml/min"),
)


def suctions(peak: Peak) -> Table:
    """Suction at every pump inlet, case by case."""
    rows: list[tuple[Cell, ...]] = []
    for one in peak.engines.values():
        rows.append(_suction(one, "usual fuel, 1 g, clean filters", one.suction, None))
        for words, worst in (
            ("worst fuel, 1 g, clean filters", one.coldest),
            (f"worst fuel, {one.loaded.load}", one.loaded),
            ("worst fuel, 1 g, filters due", one.dirty),
        ):
            rows.append(_suction(one, words, worst.suction, worst.celsius))
    notes = (
        "Every engine at full flow, mains at their lowest usable level, headers full. The band "
        "holds the tolerances of bore, viscosity and fittings.",
    )
    return Table("suctions", "Suction at the pump inlet", _SUCTION, tuple(rows), notes)


def _suction(
    peak: EnginePeak, words: str, figure: Figure, celsius: float | None
) -> tuple[Cell, ...]:
    return (
        peak.engine,
        peak.pump,
        words,
        peak.flow * ML_PER_MIN,
        figure.value * KILO,
        _kilo(figure.low),
        _kilo(figure.high),
        celsius,
    )


def _kilo(value: float | None) -> float | None:
    return None if value is None else value * KILO


def drops(peak: EnginePeak, limits: Mapping[str, float]) -> Table:
    """Pressure-drop sheet of an engine's suction side, in the order of flow.

    Parameters
    ----------
    peak : EnginePeak
        The engine.
    limits : mapping of str to float
        Limits of the checks in force [SI].
    """
    title = f"Pressure drops on the suction side of {peak.engine}"
    worst = (peak.coldest, peak.loaded, peak.dirty)
    cases = (
        f"Worst fuel: {worst[0].celsius:g} degC, 1 g, clean filters",
        f"under load: {worst[1].load}, {worst[1].celsius:g} degC, clean",
        f"filters due: {worst[2].celsius:g} degC, 1 g.",
    )
    notes = (
        "At full flow and the usual fuel temperature, from the tank that costs most to the pump "
        "inlet; the other columns follow the same path in the worst cases.",
        "; ".join(cases),
    )
    rows = [
        (*row, *(_kilo(loss) for loss in one.worst))
        for row, one in zip(_elements(peak.elements), peak.elements, strict=True)
    ]
    rows += _sums(peak, limits)
    return Table(f"drops of {peak.engine}", title, (*_DROPS, *_WORST), tuple(rows), notes)


def _sums(peak: EnginePeak, limits: Mapping[str, float]) -> list[tuple[Cell, ...]]:
    """Sum of the drops, head, suction, limit and margin: usual case, then the worst ones."""
    suctions = [peak.suction.value] + [
        one.suction.value for one in (peak.coldest, peak.loaded, peak.dirty)
    ]
    each = [(one.drop.value, *one.worst) for one in peak.elements]
    losses = [sum(column) for column in zip(*each, strict=True)] or [0.0] * len(suctions)
    allowed = [limits[f"{case}-suction-too-high"] for case in ("inlet", "cold", "loaded", "dirty")]
    named = {
        "sum of the drops": losses,
        "head of fuel and gas": [a - b for a, b in zip(suctions, losses, strict=True)],
        "suction at the pump inlet": suctions,
        "limit": allowed,
        "margin": [a - b for a, b in zip(allowed, suctions, strict=True)],
    }
    empty = (None,) * 3
    return [
        (None, words, "", *empty, None, usual * KILO, *empty, *(_kilo(one) for one in worst))
        for words, (usual, *worst) in named.items()
    ]


def delivery(peak: EnginePeak) -> Table:
    """Pressure-drop sheet of an engine's pressure side."""
    title = f"Pressure drops on the pressure side of {peak.engine}"
    return Table(f"delivery to {peak.engine}", title, _DROPS, _elements(peak.delivery))


def _elements(elements: Sequence[ElementDrop]) -> tuple[tuple[Cell, ...], ...]:
    return tuple(
        (
            float(step),
            one.line or one.part,
            one.what,
            one.bore * MILLI or None,
            one.flow * ML_PER_MIN,
            one.velocity or None,
            one.reynolds or None,
            one.drop.value * KILO,
            _kilo(one.drop.low),
            _kilo(one.drop.high),
            100.0 * one.share,
        )
        for step, one in enumerate(elements, start=1)
    )


def facts(peak: Peak) -> Table:
    """What else is known of each engine at full flow."""
    rows = tuple(
        (
            one.engine,
            one.pump_height * MILLI,
            100.0 * one.released.value,
            one.header_seconds if one.header else None,
            one.head_needed.value * KILO if known(one.head_needed) else None,
            one.head_available * KILO if known(one.head_available) else None,
            one.flow_available * ML_PER_MIN if known(one.flow_available) else None,
        )
        for one in peak.engines.values()
    )
    return Table("peaks", "Pump, header and delivery at full flow", _FACTS, rows)
