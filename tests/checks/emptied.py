"""Seeing which results a check reads, and taking one of them away."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from functools import cached_property
from typing import Any, get_args, get_origin, get_type_hints

from plumbing.checks.case import Case
from plumbing.results import NotComputed, Results

Route = tuple[str, ...]  # names of fields, and names within results, from the case downwards


def results() -> dict[str, Any]:
    """What a case computes and when it may say why not, by name, with its type."""
    found = {}
    for cls in reversed(Case.__mro__):
        for name, member in vars(cls).items():
            if isinstance(member, cached_property):
                found[name] = get_type_hints(member.func)["return"]
    del found["survey"]  # the graph alone: always there
    return found


RESULTS = results()


def every_place() -> set[tuple[str, ...]]:
    """Every result, and every field of a result, that may be missing, by the types alone."""
    found = {(name,) for name, hint in RESULTS.items() if may_miss(hint)}
    for name, hint in RESULTS.items():
        found |= {(name, field) for field in _below(hint)}
    return found


def _below(hint: Any) -> set[str]:
    if not is_dataclass(hint):
        return set().union(*map(_below, get_args(hint)))
    hints = get_type_hints(hint)
    own = {one.name for one in fields(hint) if may_miss(hints[one.name])}
    return own.union(*(_below(one) for one in hints.values()))


def place(route: Route) -> tuple[str, ...]:
    """A route without what lies between the result and its last field."""
    return route[:1] if len(route) == 1 else (route[0], route[-1])


def may_miss(hint: Any) -> bool:
    """Whether a type has room for a reason in the place of a result."""
    return NotComputed in get_args(hint) or get_origin(hint) is Results


def holds_such(value: Any) -> bool:
    """Whether a value has such a field anywhere below it."""
    if isinstance(value, Results):
        return any(holds_such(one) for one in value.values())
    if isinstance(value, tuple):
        return any(holds_such(one) for one in value)
    if not is_dataclass(value):
        return False
    hints = get_type_hints(type(value))
    return any(
        may_miss(hints[one.name]) or holds_such(getattr(value, one.name)) for one in fields(value)
    )


def spied(value: Any, route: Route, seen: set[Route]) -> Any:
    """The same, telling of each field that is read and that may be missing."""
    if isinstance(value, Results):
        return Results({name: spied(one, (*route, name), seen) for name, one in value.items()})
    if isinstance(value, tuple):
        return tuple(spied(one, (*route, str(n)), seen) for n, one in enumerate(value))
    if not is_dataclass(value) or not holds_such(value):
        return value
    hints = get_type_hints(type(value))
    told = {one.name for one in fields(value) if may_miss(hints[one.name])}

    def read(self: Any, name: str) -> Any:
        if name in told:
            seen.add((*route, name))
        return object.__getattribute__(self, name)

    cls = type(value)
    spy = type(cls.__name__, (cls,), {"__slots__": (), "__getattribute__": read})
    names = (one.name for one in fields(value))
    return spy(**{name: spied(getattr(value, name), (*route, name), seen) for name in names})


def without(value: Any, route: Route, why: NotComputed) -> Any:
    """The same with a reason at the end of a route."""
    if not route:
        if isinstance(value, Results):
            return Results(dict.fromkeys(value, why) or {"": why})
        return why
    first, rest = route[0], route[1:]
    if isinstance(value, Results):
        return Results({**value, first: without(value[first], rest, why)})
    if isinstance(value, tuple):
        at = int(first)
        return (*value[:at], without(value[at], rest, why), *value[at + 1 :])
    return replace(value, **{first: without(getattr(value, first), rest, why)})


class Watched(Case):
    """A case that tells which results are read, taking them from another that computes them."""

    def __init__(self, case: Case) -> None:
        super().__init__(case.layout)
        self.case = case
        self.seen: set[Route] = set()

    def __getattribute__(self, name: str) -> Any:
        if name not in RESULTS:
            return super().__getattribute__(name)
        if may_miss(RESULTS[name]):
            self.seen.add((name,))
        return spied(getattr(self.case, name), (name,), self.seen)


def emptied(case: Case, route: Route, why: NotComputed) -> Case:
    """The same case without one of its results."""
    empty = Case(case.layout)
    vars(empty).update(vars(case))
    vars(empty)[route[0]] = without(getattr(case, route[0]), route[1:], why)
    return empty
