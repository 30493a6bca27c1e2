"""Values that contradict each other or cannot be, whatever the geometry."""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from plumbing.layout import nearby
from plumbing.layout.gathering import Faults
from plumbing.model.base import Written
from plumbing.model.engine import Engine
from plumbing.model.flight import Flight, Phase
from plumbing.model.fuel import Fuel, ViscosityPoint
from plumbing.model.layout import Layout
from plumbing.model.measured import MEASURES, Measured
from plumbing.model.parts import Filter
from plumbing.model.structure import Run
from plumbing.model.tank import Pickup, Tank
from plumbing.place import Place

Contradiction = tuple[Place, str, str]
_DAY = re.compile(r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])")


def check(layout: Layout, folder: str, faults: Faults) -> None:
    """Note contradictions.

    Parameters
    ----------
    layout : Layout
        What could be read of the file.
    folder : str
        Folder of the file, below which recorded flights must be.
    faults : Faults
        Receives the faults.
    """
    for found in _all(layout):
        faults.add(*found)
    for flight in layout.flights.values():
        if flight.log:
            place = flight.log.place_of("file")
            nearby.path_of(flight.log.file, folder, ".csv", place, faults)


def _all(layout: Layout) -> Iterator[Contradiction]:
    yield from _aircraft(layout)
    yield from _fuel(layout.fuel)
    yield from _bores(layout)
    yield from _drops(layout)
    for engine in layout.engines.values():
        yield from _engine(engine)
    for tank in layout.tanks.values():
        yield from _tank(tank)
    for flight in layout.flights.values():
        yield from _flight(flight)
    for measured in layout.measured.values():
        yield from _measured(measured)
    for accepted in layout.accepted.values():
        if not _DAY.fullmatch(accepted.on):
            yield accepted.place_of("on"), f"`{accepted.on}`", "a date such as `2026-05-01`"
    for zone in layout.zones.values():
        if isinstance(zone.body, Run) and len(zone.body.points) < 2:
            yield zone.body.place_of("points"), "a run of one point", "two or more points"


def _aircraft(layout: Layout) -> Iterator[Contradiction]:
    craft = layout.aircraft
    if craft.cg_limits and craft.cg_limits[0] >= craft.cg_limits[1]:
        yield (
            craft.place_of("cg_limits"),
            "a forward limit that is not ahead of the aft one",
            "`[forward, aft]`, the smaller x first",
        )
    loads = craft.load_factors
    if loads.negative >= loads.positive:
        yield (
            loads.place,
            "`negative` not below `positive`",
            "such as `positive: 6 g, negative: -2 g`",
        )


def _fuel(fuel: Fuel) -> Iterator[Contradiction]:
    range_ = fuel.temperature
    if not range_.coldest <= range_.usual <= range_.hottest:
        yield range_.place, "temperatures out of order", "`coldest`, `usual`, `hottest` rising"
    yield from _viscosities(fuel.viscosity, fuel.place_of("viscosity"))
    yield from _viscosities(fuel.oil_viscosity, fuel.place_of("oil_viscosity"))
    if fuel.kind == "own" and not _written(fuel, "viscosity"):
        yield fuel.place, "a fuel of your own without `viscosity`", "two measured points"
    if fuel.kind == "own" and not _written(fuel, "density_15"):
        yield fuel.place, "a fuel of your own without `density-15`", "its density at 15 degC"


def _viscosities(points: Sequence[ViscosityPoint], place: Place) -> Iterator[Contradiction]:
    if not points:
        return
    if len(points) != 2:
        yield place, f"{len(points)} viscosity points", "two, at different temperatures"
        return
    cold, warm = sorted(points, key=lambda point: point.at)
    if warm.at - cold.at < 1.0:
        yield place, "two viscosity points at one temperature", "two at least 1 degC apart"
    elif warm.value >= cold.value:
        yield place, "a viscosity that does not fall when warmer", "the larger value at the colder"


def _bores(layout: Layout) -> Iterator[Contradiction]:
    """Inner diameters that are not below the outer ones."""
    for tube in layout.tubes.values():
        if tube.inside_diameter >= tube.outside_diameter:
            yield _not_below(tube, "inside_diameter", f"tube `{tube.name}`")
    for joint in layout.joints.values():
        if joint.bore and joint.outside_diameter and joint.bore >= joint.outside_diameter:
            yield _not_below(joint, "bore", f"joint `{joint.name}`")
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            hose = port.pickup.hose if port.pickup else None
            if hose and hose.outside_diameter and hose.bore >= hose.outside_diameter:
                yield _not_below(hose, "bore", f"the hose at `{tank.name}.{port.name}`")


def _not_below(value: Written, field: str, what: str) -> Contradiction:
    found = f"an inner diameter of {what} that is not below the outer one"
    return value.place_of(field), found, "the smaller diameter inside"


def _drops(layout: Layout) -> Iterator[Contradiction]:
    """Dirty filters that pass more easily than clean ones, and pump curves that turn."""
    pickups = (p.pickup for t in layout.tanks.values() for p in t.ports.values() if p.pickup)
    parts: tuple[Filter | Pickup, ...] = (*layout.filters.values(), *pickups)
    for part in parts:
        if part.clean_drop and part.dirty_drop and part.clean_drop > part.dirty_drop:
            yield (
                part.place_of("dirty_drop"),
                "a drop less when dirty than clean",
                "clean below dirty",
            )
    for pump in layout.pumps.values():
        flows = [point.flow for point in pump.curve]
        rises = [-point.pressure for point in pump.curve]
        low, high = pump.supply.voltage_idle, pump.supply.voltage_full
        if low is not None and high is not None and low > high:
            yield (
                pump.supply.place_of("voltage_idle"),
                "`voltage-idle` above `voltage-full`",
                "`voltage-idle` at most `voltage-full`",
            )
        if len(flows) == 1 or not _rising(flows, strictly=True) or not _rising(rises):
            yield (
                pump.place_of("curve"),
                f"the curve of `{pump.name}`",
                "two or more points, flow rising and pressure falling",
            )


def _rising(values: Sequence[float], strictly: bool = False) -> bool:
    pairs = pairwise(values)
    return all(a < b or (a == b and not strictly) for a, b in pairs)


def _engine(engine: Engine) -> Iterator[Contradiction]:
    if not _written(engine, "thrust") and not _written(engine, "full_flow"):
        found = f"engine `{engine.name}` without `thrust` and without `full-flow`"
        yield engine.place, found, "one of them, or both"
    for stated, value in (("thrust", engine.thrust), ("full_flow", engine.full_flow)):
        if value == 0.0:
            yield engine.place_of(stated), "zero", "more than zero"
    pairs: Iterable[tuple[str, float | None, str, float | None]] = (
        ("idle_flow", engine.idle_flow, "full_flow", engine.full_flow),
        ("full_flow", engine.full_flow, "flow_ceiling", engine.flow_ceiling),
        (
            "feed_pressure_idle",
            engine.feed_pressure_idle,
            "feed_pressure_full",
            engine.feed_pressure_full,
        ),
    )
    for low_name, low, high_name, high in pairs:
        if low is not None and high is not None and low > high:
            names = [name.replace("_", "-") for name in (low_name, high_name)]
            found = f"`{names[0]}` above `{names[1]}`"
            yield engine.place_of(low_name), found, f"`{names[0]}` at most `{names[1]}`"


def _tank(tank: Tank) -> Iterator[Contradiction]:
    if tank.displaced >= 0.95:
        yield tank.place_of("displaced"), "a tank with no room for fuel", "a few percent"
    if not tank.ports:
        yield tank.place_of("ports"), f"tank `{tank.name}` without a port", "one or more ports"
    if tank.capacity == 0.0:
        yield tank.place_of("capacity"), "zero", "more than zero"


def _flight(flight: Flight) -> Iterator[Contradiction]:
    if _written(flight, "phases") == _written(flight, "log"):
        both = _written(flight, "log")
        found = "both `phases` and `log`" if both else "neither `phases` nor `log`"
        yield flight.place, f"{found} in flight `{flight.name}`", "one of the two"
    for phase in flight.phases:
        yield from _phase(phase)


def _phase(phase: Phase) -> Iterator[Contradiction]:
    what = f"phase `{phase.name}`"
    if _written(phase, "phases"):
        if _written(phase, "duration") or _written(phase, "throttle"):
            expected = "only `name`, `repeat` and `phases`"
            yield phase.place, f"{what}, a group with `duration` or `throttle`", expected
        for inner in phase.phases:
            yield from _phase(inner)
        return
    missing = [name for name in ("duration", "throttle") if not _written(phase, name)]
    if missing:
        yield phase.place, f"{what} without `{missing[0]}`", "both `duration` and `throttle`"
    if phase.duration == 0.0:
        yield phase.place_of("duration"), f"{what} of no duration", "more than zero"
    if phase.felt is not None and (_written(phase, "pitch") or _written(phase, "roll")):
        yield (
            phase.place_of("felt"),
            f"{what} with both `felt` and an attitude",
            "`pitch` and `roll`, or `felt`",
        )


def _measured(measured: Measured) -> Iterator[Contradiction]:
    wanted = MEASURES[measured.what]
    if not _written(measured, wanted):
        found = f"`{measured.name}`, {measured.what} without `{wanted}`"
        yield measured.place, found, f"`{wanted}`: the value measured"


def _written(value: Written, field: str) -> bool:
    """Whether a field stands in the file, also where what stands there has a fault."""
    return field in value.places
