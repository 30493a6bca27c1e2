"""Peak flow as tables: suction at every pump, and the drops along the worst path."""

from __future__ import annotations

from collections.abc import Sequence

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


def drops(peak: EnginePeak) -> Table:
    """Pressure-drop sheet of an engine's suction side, in the order of flow."""
    title = f"Pressure drops on the suction side of {peak.engine}"
    notes = (
        "At full flow and the usual fuel temperature, from the tank that costs most to the pump "
        "inlet. The sum of the drops and the head of fuel make the suction.",
    )
    return Table(f"drops of {peak.engine}", title, _DROPS, _elements(peak.elements), notes)


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
