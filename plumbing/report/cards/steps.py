"""Steps of the leak and pressure tests, with the marks they must meet. Common practice."""

from __future__ import annotations

from dataclasses import dataclass

from plumbing.model.layout import Layout
from plumbing.model.tank import Tank
from plumbing.report.schedules.table import Cell, Column, Table

_PRESSURE = {"blow-moulded": 20e3, "composite": 12e3, "printed": 12e3, "metal": 20e3}
_SUCTION = {"blow-moulded": 10e3, "composite": 5e3, "printed": 5e3, "metal": 10e3}
_COLUMNS = (
    Column("tank"),
    Column("wall"),
    Column("test pressure", "kPa", 1),
    Column("test suction", "kPa", 1),
    Column("proved to, as stated", "kPa", 1),
)


@dataclass(frozen=True, slots=True)
class Step:
    """A test by hand.

    Attributes
    ----------
    name : str
        What is tested.
    how : str
        What to do.
    passes : str
        When it is passed.
    """

    name: str
    how: str
    passes: str


BEFORE = (
    "No fuel in the system, no battery on the pump, eye protection on, no face over an opening.",
    "A cracked tank filled with air flies apart; filled with water it only leaks. Use water "
    "wherever it can be dried out again, and air only at the low pressures given here.",
    "Never put more on a tank than the table says, and never draw the vacuum of the lines on a "
    "tank.",
)


def tank_tests(layout: Layout) -> Table:
    """Pressure and suction each tank is tested with."""
    rows: list[tuple[Cell, ...]] = [_tank(tank) for tank in layout.tanks.values()]
    notes = (
        "Usual pressures by the kind of wall (common practice), never more than the tank was "
        "proved to or half the suction it folds at. Empty field: look only, no test.",
    )
    return Table("tank-tests", "Test pressures of the tanks", _COLUMNS, tuple(rows), notes)


def _tank(tank: Tank) -> tuple[Cell, ...]:
    wall = tank.wall
    if wall is None:
        return tank.name, "not stated", None, None, None
    pressure, suction = _PRESSURE.get(wall.kind), _SUCTION.get(wall.kind)
    proof = wall.proof_pressure
    if pressure is not None and proof is not None:
        pressure = min(pressure, proof)
    if suction is not None and wall.collapse_suction is not None:
        suction = min(suction, 0.5 * wall.collapse_suction)
    return tank.name, wall.kind, _kilo(pressure), _kilo(suction), _kilo(proof)


def _kilo(value: float | None) -> float | None:
    return None if value is None else value / 1e3


def leak_tests(layout: Layout) -> tuple[Step, ...]:
    """Leak and pressure tests, in the order in which they are done."""
    rate = layout.filling.flow
    filling = f"{6e4 * rate:.2g} L/min" if rate else "the highest rate of the field pump"
    return (
        Step(
            "tanks under pressure",
            "Close every port but one, hold the tank under water, bring it to the pressure of the "
            "table through a gauge and wait 2 min.",
            "no bubbles, no lasting change of shape",
        ),
        Step(
            "tanks under suction",
            "The same with the suction of the table, 5 min; then shake the tank.",
            "no wall clicks or folds, the clunk is free, loss at most 1 kPa",
        ),
        Step(
            "suction side under vacuum",
            "Part the lines from the tanks and plug them there; draw 30 kPa of vacuum on lines, "
            "valve, tee and filter with a hand pump and wait 5 min. Soft tube gives at first: "
            "repeat. Halve the system to find a leak.",
            "loss at most 3 kPa",
        ),
        Step(
            "suction side wet",
            "With fuel standing 0.3 m over it, dry paper under every joint for 1 h. A joint can "
            "pass this and still draw air: it does not replace the vacuum.",
            "dry",
        ),
        Step(
            "pressure side",
            "Pump against the closed valve for 1 to 2 s, dry paper round every joint.",
            "no weeping, no tube moves on its fitting",
        ),
        Step(
            "vent while filling",
            f"Fill to the overflow at {filling}, a gauge on a spare port; slow down for the last "
            "tenth.",
            "rise at most 5 kPa and half the test pressure of the weakest tank",
        ),
        Step(
            "vent while drawing",
            "Tanks half full, pump at full flow, the gauge on the same port.",
            "at most 0.5 kPa of suction",
        ),
        Step(
            "stops",
            "Radio off, stop by the transmitter, valve by hand, one after the other.",
            "no flow after 2 s at most; the valve closes in one movement",
        ),
    )
