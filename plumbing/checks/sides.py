"""What belongs to the suction side and what to the pressure side."""

from collections.abc import Iterator
from typing import TypeVar

from plumbing.checks.kit import Case
from plumbing.model.layout import split_port
from plumbing.model.line import Line
from plumbing.model.parts import Filter, Valve

Sided = TypeVar("Sided", Filter, Valve)

FEED = ("suction", "pressure")


def lines_of(case: Case, *roles: str) -> tuple[Line, ...]:
    """Lines of any of these roles, in the order of the file."""
    return tuple(
        line for name, line in case.layout.lines.items() if case.survey.lines[name].role in roles
    )


def lines_at(case: Case, part: str) -> tuple[Line, ...]:
    """Lines that end at a part."""
    return tuple(
        line
        for line in case.layout.lines.values()
        if part in (split_port(line.from_)[0], split_port(line.to)[0])
    )


def side_of(case: Case, part: str) -> str:
    """`suction` or `pressure` for what the engine's fuel passes, else empty."""
    roles = {str(case.survey.lines[line.name].role) for line in lines_at(case, part)}
    return next((side for side in FEED if side in roles), "")


def filters_on(case: Case, *sides: str) -> Iterator[Filter]:
    """Filters on these sides."""
    return _on(case, case.layout.filters, sides)


def valves_on(case: Case, *sides: str) -> Iterator[Valve]:
    """Valves on these sides."""
    return _on(case, case.layout.valves, sides)


def _on(case: Case, parts: dict[str, Sided], sides: tuple[str, ...]) -> Iterator[Sided]:
    return (part for name, part in parts.items() if side_of(case, name) in sides)


def tube_bores_at(case: Case, part: str) -> tuple[float, ...]:
    """Bores of the feed tubes that end at a part [m]."""
    return tuple(
        case.layout.tube_of(line).inside_diameter
        for line in lines_at(case, part)
        if case.survey.lines[line.name].role in FEED
    )
