"""Cards for the flight line: before and after a flight, and the labels on the aircraft."""

from __future__ import annotations

from plumbing import units
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown
from plumbing.units import clock


@frozen
class Label:
    """A label on the aircraft or a flag on a tube."""

    words: str
    more: str = ""
    role: str = ""


def pre_flight(layout: Layout, flown: Flown | NotComputed) -> tuple[tuple[str, str], ...]:
    """What to do before a flight, with room for a reading where there is a unit."""
    fill = units.show(flown.on_board, "volume") if known(flown) else "full"
    timer = clock(flown.timer) if known(flown) else "..."
    plugs = [name for name, one in layout.outlets.items() if one.plug is not None]
    vents = " and ".join(layout.outlets) or "vent"
    caps = " and ".join(layout.fill_ports) or "fill port"
    valves = [n for n, valve in layout.valves.items() if valve.kind == "shut-off"]
    return (
        (f"fuel in, expected {fill}; oil mixed, filtered, water checked", "L"),
        ("header full, no bubble under its roof", ""),
        (f"{caps} closed and capped", ""),
        (f"{' and '.join(plugs) or vents}: plugs out, flags in the box", ""),
        (f"{vents} clear", ""),
        (f"{' and '.join(valves) or 'shut-off valve'} OPEN", ""),
        ("joints dry: paper round them", ""),
        (f"pump battery{_charge(layout)} and receiver battery", "V"),
        ("failsafe stops the engine: seen", ""),
        ("helper knows shut-off and extinguisher", ""),
        ("extinguisher at hand, tail clear, nose into the wind", ""),
        ("started: no bubbles for 10 s at a third of throttle", ""),
        (f"pump voltage idle / full, {_voltages(layout)}", "V"),
        (f"timer set, at most {timer} from take-off", "min"),
        ("brakes hold", ""),
    )


def _charge(layout: Layout) -> str:
    """Charge of the batteries of the pumps, where it is stated."""
    stated = (pump.supply.capacity for pump in layout.pumps.values())
    known_ones = dict.fromkeys(units.show(one, "charge") for one in stated if one is not None)
    return f" of {' and '.join(known_ones)}" if known_ones else ""


def _open_when_parted(layout: Layout) -> list[str]:
    return [name for name, one in layout.connectors.items() if one.self_closing is False]


def _voltages(layout: Layout) -> str:
    """Voltages of the pumps at idle and full throttle, where they are known."""
    known_ones = [
        f"{name} {_volts(pump.supply.voltage_idle)} / {_volts(pump.supply.voltage_full)}"
        for name, pump in layout.pumps.items()
        if pump.supply.voltage_idle is not None or pump.supply.voltage_full is not None
    ]
    return ", ".join(known_ones) or "as on the first run"


def _volts(value: float | None) -> str:
    return "..." if value is None else units.show(value, "voltage")


def post_flight(layout: Layout) -> tuple[tuple[str, str], ...]:
    """What to do after a flight."""
    valves = [n for n, valve in layout.valves.items() if valve.kind == "shut-off"]
    return (
        ("engine cooled down by its controller", ""),
        (f"{' and '.join(valves) or 'shut-off valve'} CLOSED", ""),
        ("overflow into the bottle", ""),
        *((f"{name} parted: capped, it does not close", "") for name in _open_when_parted(layout)),
        ("air in the header", "ml"),
        ("fuel to fill up again: the burn of this flight", "L"),
        ("wet spots, smell, chafe", ""),
        ("drained, if it travels; vent capped with its flag after that, not before", ""),
    )


def placards(layout: Layout) -> tuple[Label, ...]:
    """Labels a stranger needs at the aircraft."""
    rate = layout.filling.flow
    most = f"at most {6e4 * rate:.2g} L/min" if rate else ""
    mix = f"{layout.fuel.kind} + {units.show(layout.fuel.oil, 'share')} oil"
    found = [
        Label(f"FILL  {one.label or mix}", f"{name}  {most}".strip())
        for name, one in layout.fill_ports.items()
    ]
    found += [Label("VENT  keep open, plug out before flight", name) for name in layout.outlets]
    found += [
        Label("FUEL SHUT-OFF", name)
        for name, valve in layout.valves.items()
        if valve.kind == "shut-off"
    ]
    found += [Label("DRAIN", name) for name in layout.drains]
    kind = layout.safety.extinguisher
    found.append(Label("FIRE  fuel off, extinguisher", (kind or "").upper().replace("NONE", "")))
    return tuple(found)


def flags(layout: Layout, survey: Survey) -> tuple[Label, ...]:
    """A flag for every line: number, name, where it leads."""
    return tuple(
        Label(f"{number}  {line.name}", f"{line.from_} to {line.to}", str(survey.lines[name].role))
        for number, (name, line) in enumerate(layout.lines.items(), start=1)
    )


def if_it_goes_wrong(layout: Layout) -> tuple[tuple[str, str], ...]:
    """What is done when a start, a run or a fuelling goes wrong: what is seen, what to do."""
    valves = [n for n, valve in layout.valves.items() if valve.kind == "shut-off"]
    close = f"{' and '.join(valves) or 'shut-off valve'} CLOSED"
    kind = {"co2": "carbon dioxide", "foam": "foam"}.get(layout.safety.extinguisher or "", "")
    spray = f"extinguisher ({kind})" if kind else "extinguisher, carbon dioxide or foam, no powder"
    return (
        ("hot start, long flame", f"throttle closed, starter or air on, {close}; let it blow out"),
        ("still burning", f"{spray} into the intake; never move the aircraft into the crowd"),
        ("wet engine", "no relight: fuel off, nose up until it has drained, blow dry"),
        ("fire in the bay", f"{close}, {spray} through the hatch, battery out when it is dead"),
        ("fire while fuelling", f"pump off, hose away, {spray}; leave the cans, get people away"),
        ("fuel in an eye", "water for 15 min, then a doctor; on skin soap and water"),
    )
