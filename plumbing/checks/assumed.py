"""Findings that rest on assumed values: they go where these are at the kind end of their band.

A check is asked again about a copy of the layout in which everything that was assumed, and that
the check may see, has the kindest value that is usual. What is not found there cannot be told
from what is within its limit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

from plumbing.checks.case import Case
from plumbing.frozen import frozen
from plumbing.layout.usual import CLUNK
from plumbing.model.flight import Flight, Phase
from plumbing.model.layout import Layout
from plumbing.model.tank import Tank
from plumbing.physics.demand import full_flow_band

_LOADED = frozenset(
    {"loaded-suction-too-high", "dirty-suction-too-high"}
    | {"tank-suction-near-collapse", "pump-loses-its-flow"}
)
_SUCTION = _LOADED | {"cold-suction-too-high"}
_PUMP = frozenset({"pump-too-weak", "pump-pressure-too-low"})
_FLOWN = frozenset(
    {"air-reaches-pump-in-flight", "air-fills-header-in-flight", "engine-stops-in-flight"}
    | {"lands-below-reserve", "timer-too-long", "fuel-lost-in-flight"}
)
_ORDER = frozenset({"cg-leaves-limits-in-flight", "tanks-empty-in-other-order"})
_FLOW = _SUCTION | _PUMP | _FLOWN | {"inlet-suction-too-high", "air-released-before-pump"}
_LOST = frozenset({"fuel-lost-in-flight"})
_STREAM = _LOST | {"outlet-in-the-airstream", "outlets-at-unequal-pressure"}
_REACH = frozenset({"pickup-misses-low-corner", "clunk-touches-wall", "clunk-can-jam"})

_LOADS = "aircraft.load-factors"
_FEED = 300e3  # feed pressure at full flow of an engine that needs little, common practice [Pa]
_PULL, _PUSH, _RUN, _BRAKE = 4.0, -1.0, 0.5, 0.3  # of a calm pilot, common practice [g]
_MILD, _COOL = 5.0, 30.0  # coldest and hottest fuel of who flies on mild days [degC]
_SLOW = 50.0  # fastest of a slow aircraft [m/s]
_LEVEL = Flight(name="level", phases=(Phase(name="level", duration=180.0, throttle=0.5),))

Change = Callable[[Layout], Layout]
Kind = tuple[str, frozenset[str], Change]  # key path, checks that may see it, the change


@frozen(eq=False)
class Otherwise:
    """A layout with what was assumed at the kind end.

    Attributes
    ----------
    case : Case
        The layout with the other values; its results are computed when asked for.
    paths : mapping of str to tuple of str
        By check, the key paths of the values that it may see.
    """

    case: Case
    paths: dict[str, tuple[str, ...]]


def otherwise(layout: Layout) -> tuple[Otherwise, ...]:
    """Copies of a layout with everything assumed at its kind ends; clunks have two."""
    assumed = {one.what for one in layout.assumptions}
    if not layout.flights:
        assumed.add("flights")
    plain = [*_engines(layout), *_loads(), *_fuel(), *_outlets(layout), *_tanks(layout)]
    found = []
    for kinds in (plain, list(_reaches(layout, -0.5)), list(_reaches(layout, 0.5))):
        other, paths = layout, dict[str, tuple[str, ...]]()
        for path, checks, change in kinds:
            if path in assumed:
                other = change(other)
                said = _LOADS if path.startswith(_LOADS) else path
                for check in checks:
                    paths[check] = tuple(dict.fromkeys((*paths.get(check, ()), said)))
        if paths:
            found.append(Otherwise(Case(other), paths))
    return tuple(found)


def _engines(layout: Layout) -> Iterator[Kind]:
    for name, engine in layout.engines.items():
        if engine.thrust is not None:
            least = float(full_flow_band(engine.thrust)[0])
            change = _engine(name, "full_flow", least)
            yield f"engines.{name}.full-flow", _FLOW | {"header-too-small"}, change
        change = _engine(name, "feed_pressure_full", _FEED)
        yield f"engines.{name}.feed-pressure-full", _PUMP, change


def _engine(name: str, field: str, value: float) -> Change:
    def change(layout: Layout) -> Layout:
        engine = replace(layout.engines[name], **{field: value})  # type: ignore[arg-type]
        return replace(layout, engines={**layout.engines, name: engine})

    return change


def _loads() -> Iterator[Kind]:
    def change(layout: Layout, **factor: float) -> Layout:
        aircraft = layout.aircraft
        factors = replace(aircraft.load_factors, **factor)  # type: ignore[arg-type]
        return replace(layout, aircraft=replace(aircraft, load_factors=factors))

    yield f"{_LOADS}.positive", _LOADED, lambda one: change(one, positive=_PULL)
    yield f"{_LOADS}.negative", _LOADED, lambda one: change(one, negative=_PUSH)
    yield f"{_LOADS}.forward", _LOADED | {"slosh-moves-cg"}, lambda one: change(one, forward=_RUN)
    yield f"{_LOADS}.braking", _LOADED, lambda one: change(one, braking=_BRAKE)


def _fuel() -> Iterator[Kind]:
    def change(layout: Layout, **celsius: float) -> Layout:
        span = replace(layout.fuel.temperature, **celsius)  # type: ignore[arg-type]
        return replace(layout, fuel=replace(layout.fuel, temperature=span))

    path = "fuel.temperature"
    yield f"{path}.coldest", _SUCTION | _PUMP, lambda one: change(one, coldest=_MILD)
    hot = frozenset({"tube-pressure-too-low", "expansion-spills"})
    yield f"{path}.hottest", hot, lambda one: change(one, hottest=_COOL)


def _outlets(layout: Layout) -> Iterator[Kind]:
    def slow(layout: Layout) -> Layout:
        return replace(layout, aircraft=replace(layout.aircraft, max_airspeed=_SLOW))

    def calm(layout: Layout) -> Layout:
        still = {n: replace(x, pressure_coefficient=0.0) for n, x in layout.outlets.items()}
        stated = {n: x for n, x in layout.outlets.items() if x.pressure_coefficient is not None}
        return replace(layout, outlets={**still, **stated})

    yield "aircraft.max-airspeed", _STREAM, slow
    for name in layout.outlets:
        yield f"outlets.{name}.pressure-coefficient", _LOST, calm


def _tanks(layout: Layout) -> Iterator[Kind]:
    def level(layout: Layout) -> Layout:
        return replace(layout, flights={_LEVEL.name: _LEVEL})

    for name in layout.tanks:
        yield f"tanks.{name}.fill", _FLOWN, partial(_tank, name=name, fill=1.0)
    yield "flights", _FLOWN | _ORDER, level


def _reaches(layout: Layout, longer: float) -> Iterator[Kind]:
    """Clunks longer by a share of what is usual."""

    def change(layout: Layout, name: str, port: str) -> Layout:
        ports = layout.tanks[name].ports
        pickup = ports[port].pickup
        if pickup is None or pickup.reach is None:
            return layout
        other = replace(pickup, reach=pickup.reach + longer * CLUNK)
        return _tank(layout, name, ports={**ports, port: replace(ports[port], pickup=other)})

    for name, tank in layout.tanks.items():
        for port in tank.ports:
            path = f"tanks.{name}.ports.{port}.pickup.reach"
            yield path, _REACH, partial(change, name=name, port=port)


def _tank(layout: Layout, name: str, **changed: object) -> Layout:
    tank: Tank = replace(layout.tanks[name], **changed)  # type: ignore[arg-type]
    return replace(layout, tanks={**layout.tanks, name: tank})
