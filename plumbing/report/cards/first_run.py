"""The record of the first engine runs in the airframe. Its order is common practice."""

from __future__ import annotations

from plumbing import units
from plumbing.model.engine import Engine
from plumbing.model.layout import Layout
from plumbing.report.cards.form import Form
from plumbing.simulation.peak_result import EnginePeak, Peak

_CAUTIONS = (
    "First run with fuel in the aircraft: expect a leak. Outdoors, tail clear, nobody beside the "
    "turbine, hatches open so that the joints are seen, aircraft held.",
    "Helper: a second person mans the extinguisher (carbon dioxide, not powder) and knows the "
    "shut-off. "
    "Fuel seen anywhere but in the tubes: shut-off closed, engine off, battery out, no restart "
    "before it is dry.",
    "Wet engine: never relight it. Fuel off, starter or air on until it is dry, nose up to drain.",
)
_STEPS = (
    "Engine line off into a bottle: prime by the controller until no bubbles come. Join it again.",
    "Idle for 1 min, half throttle for 1 min, full throttle for 30 to 60 s; read at each.",
    "Fast opening, fast closing, twice. Watch the clear tube before the pump and the header.",
    "Full throttle held by the brakes, then braking hard; nose up and down 15 deg and wings 30 "
    "deg at idle with two people: look for air.",
    "Stop by failsafe, by the transmitter and by the valve. Look at every joint, wipe it with "
    "paper.",
)
_HEADS = (
    "engine", "throttle", "fuel flow expected", "pump voltage or duty expected", "read",
    "suction expected", "read", "exhaust degC", "bubbles seen",
)  # fmt: skip


def first_run(layout: Layout, peak: Peak) -> Form:
    """Form of the first runs; its readings are what later ones are compared with."""
    solved = dict(peak.engines.items())
    rows = [
        row
        for name, engine in layout.engines.items()
        for row in _rows(layout, engine, solved.get(name))
    ]
    notes = (
        "Every later reading is compared with these: pump voltage more than a tenth off means a "
        "filter, air or a leak.",
    )
    return Form("First engine runs", _CAUTIONS, _STEPS, _HEADS, tuple(rows), notes, wide=True)


def _rows(layout: Layout, engine: Engine, peak: EnginePeak | None) -> list[tuple[str, ...]]:
    pump = layout.pumps.get(peak.pump) if peak else None
    supply = pump.supply if pump else None
    idle, full = (supply.voltage_idle, supply.voltage_full) if supply else (None, None)
    suction = units.show(peak.suction.value, "pressure") if peak else ""
    return [
        (engine.name, "idle", _flow(engine.idle_flow), _volts(idle), "", "", "", "", ""),
        (engine.name, "half", "", "", "", "", "", "", ""),
        (engine.name, "full", _flow(engine.full_flow), _volts(full), "", suction, "", "", ""),
    ]


def _flow(value: float | None) -> str:
    return "" if value is None else units.show(value, "flow")


def _volts(value: float | None) -> str:
    return "" if value is None else units.show(value, "voltage")
