"""Ways of the fuel from tanks to pumps and engines."""

from collections.abc import Iterator

from plumbing.frozen import frozen
from plumbing.model.line import Line
from plumbing.model.parts import Filter, Valve
from plumbing.network.paths import FuelPath
from plumbing.network.survey import Survey


@frozen
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


def ways(survey: Survey, engine: str) -> Iterator[FuelPath]:
    """Way of the fuel from each tank that feeds an engine."""
    for tank in survey.tanks_feeding(engine):
        found = survey.fuel_path(tank, engine)
        if found is not None:
            yield found


def whole_ways(survey: Survey, engine: str) -> tuple[FuelPath, ...]:
    """Those ways that are not a piece of another: from the tanks nothing refills."""
    found = tuple(ways(survey, engine))
    inner = {tank for way in found for tank in way.path.tanks[1:]}
    return tuple(way for way in found if way.tank not in inner)


def before_pump(survey: Survey, way: FuelPath) -> tuple[str, ...]:
    """Parts from the tank to the first pump, without the pump; to the engine if there is none."""
    parts = way.path.parts[:-1]
    pump = next(
        (n for n, part in enumerate(parts) if part in survey.network.layout.pumps), len(parts)
    )
    return parts[:pump]


def lines_before_pump(survey: Survey, way: FuelPath) -> tuple[Line, ...]:
    """Lines from the tank to the first pump."""
    parts = before_pump(survey, way)
    return tuple(
        survey.network.layout.lines[name]
        for name in way.path.lines
        if survey.network.part_of(survey.lines[name].upstream) in parts
    )


def strainers_before_pump(survey: Survey, way: FuelPath) -> tuple[Strainer, ...]:
    """Filters and fine-pore pickups the fuel passes before the pump."""
    parts = before_pump(survey, way)
    found = [
        _strainer(survey.network.layout.filters[part])
        for part in parts
        if part in survey.network.layout.filters
    ]
    for reference in way.path.ports:
        name, _, port = reference.partition(".")
        if name not in survey.network.layout.tanks or name not in parts:
            continue
        pickup = survey.network.layout.tanks[name].ports[port].pickup
        if pickup is not None and pickup.kind == "fine-pore":
            path = f"tanks.{name}.ports.{port}.pickup"
            found.append(Strainer(name, path, f"the pickup at {reference}", pickup.pore))
    return tuple(found)


def filters_after_pump(survey: Survey, way: FuelPath) -> tuple[Filter, ...]:
    """Filters between the last pump and the engine."""
    parts = way.path.parts
    last = max(
        (n for n, part in enumerate(parts) if part in survey.network.layout.pumps), default=0
    )
    return tuple(
        survey.network.layout.filters[p] for p in parts[last:] if p in survey.network.layout.filters
    )


def valves_on_way(survey: Survey, way: FuelPath) -> tuple[Valve, ...]:
    """Valves between the tank and the engine."""
    return tuple(
        survey.network.layout.valves[p] for p in way.path.parts if p in survey.network.layout.valves
    )


def _strainer(element: Filter) -> Strainer:
    return Strainer(element.name, f"filters.{element.name}", f"filter {element.name}", element.pore)
