"""Ways of the fuel from tanks to pumps and engines, for the checks that walk along them."""

from collections.abc import Iterator
from dataclasses import dataclass

from plumbing.checks.kit import Case
from plumbing.model.line import Line
from plumbing.model.parts import Filter, Valve
from plumbing.network.paths import FuelPath


@dataclass(frozen=True, slots=True)
class Strainer:
    """Something fuel is strained by: a filter, or the fine-pore pickup at a tank's port.

    Attributes
    ----------
    part, path : str
        Its part, and its own key path in the file.
    words : str
        What it is called in a sentence.
    pore : float or None
        Largest pore [m].
    """

    part: str
    path: str
    words: str
    pore: float | None


def ways(case: Case, engine: str) -> Iterator[FuelPath]:
    """Way of the fuel from each tank that feeds an engine."""
    for tank in case.survey.tanks_feeding(engine):
        found = case.survey.fuel_path(tank, engine)
        if found is not None:
            yield found


def whole_ways(case: Case, engine: str) -> tuple[FuelPath, ...]:
    """Those ways that are not a piece of another: from the tanks nothing refills."""
    found = tuple(ways(case, engine))
    inner = {tank for way in found for tank in way.path.tanks[1:]}
    return tuple(way for way in found if way.tank not in inner)


def before_pump(case: Case, way: FuelPath) -> tuple[str, ...]:
    """Parts from the tank to the first pump, without the pump; to the engine if there is none."""
    parts = way.path.parts[:-1]
    pump = next((n for n, part in enumerate(parts) if part in case.layout.pumps), len(parts))
    return parts[:pump]


def lines_before_pump(case: Case, way: FuelPath) -> tuple[Line, ...]:
    """Lines from the tank to the first pump."""
    parts = before_pump(case, way)
    return tuple(
        case.layout.lines[name]
        for name in way.path.lines
        if case.survey.network.part_of(case.survey.lines[name].upstream) in parts
    )


def strainers_before_pump(case: Case, way: FuelPath) -> tuple[Strainer, ...]:
    """Filters and fine-pore pickups the fuel passes before the pump."""
    parts = before_pump(case, way)
    found = [_strainer(case.layout.filters[part]) for part in parts if part in case.layout.filters]
    for reference in way.path.ports:
        name, _, port = reference.partition(".")
        if name not in case.layout.tanks or name not in parts:
            continue
        pickup = case.layout.tanks[name].ports[port].pickup
        if pickup is not None and pickup.kind == "fine-pore":
            path = f"tanks.{name}.ports.{port}.pickup"
            found.append(Strainer(name, path, f"the pickup at {reference}", pickup.pore))
    return tuple(found)


def filters_after_pump(case: Case, way: FuelPath) -> tuple[Filter, ...]:
    """Filters between the last pump and the engine."""
    parts = way.path.parts
    last = max((n for n, part in enumerate(parts) if part in case.layout.pumps), default=0)
    return tuple(case.layout.filters[p] for p in parts[last:] if p in case.layout.filters)


def valves_on_way(case: Case, way: FuelPath) -> tuple[Valve, ...]:
    """Valves between the tank and the engine."""
    return tuple(case.layout.valves[p] for p in way.path.parts if p in case.layout.valves)


def _strainer(element: Filter) -> Strainer:
    return Strainer(element.name, f"filters.{element.name}", f"filter {element.name}", element.pore)
