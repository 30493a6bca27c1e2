"""Usual values worked out from what the file does say, each listed with its source.

After reading, a field that is still None has no usual value: a check that needs it stays
unchecked. Cut lengths stay None; the routed length is used in their place, and that is listed.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TypeVar

from plumbing import units
from plumbing.findings import Assumption, Guess
from plumbing.geometry.route import filleted_length
from plumbing.layout import usual
from plumbing.model.base import Named
from plumbing.model.engine import Engine
from plumbing.model.fuel import Fuel, ViscosityPoint
from plumbing.model.layout import Layout, port_position, split_port
from plumbing.model.line import Line
from plumbing.model.parts import Outlet
from plumbing.model.tank import Port, Tank, Wall
from plumbing.physics import bags, demand
from plumbing.physics.fuel import Liquid, liquid
from plumbing.physics.vents import facing_coefficient

Value = TypeVar("Value", bound=Named)


def complete(layout: Layout, assumed: tuple[Assumption, ...]) -> Layout:
    """Fill in what can be assumed.

    Parameters
    ----------
    layout : Layout
        A layout without faults.
    assumed : tuple of Assumption
        What was assumed while reading.

    Returns
    -------
    Layout
        With engines, fuel, bores and pickups completed and every assumption listed, those of
        the file's own order first.
    """
    noted = list(assumed)

    def note(path: str, value: float, kind: str, source: str) -> float:
        noted.append(Assumption(path, units.show(value, kind), source))
        return value

    engines = _each(layout.engines, lambda engine: _engine(layout, engine, note))
    tanks = _each(layout.tanks, lambda tank: _tank(layout, tank, note))
    fuel = _fuel(layout.fuel, note, noted)
    for line in layout.lines.values():
        if line.cut_length is None:
            length = _routed(layout, line)
            note(f"lines.{line.name}.cut-length", length, "length", "the routed length")
    for outlet in layout.outlets.values():
        if outlet.pressure_coefficient is None:
            noted.append(_stream_at(outlet))
    noted += _bodies(layout)
    noted += [_passed(tank) for tank in layout.tanks.values() if _open_baffles(tank)]
    if layout.filling.pump_pressure is None and any(tank.is_bag for tank in tanks.values()):
        most = f"{units.show(bags.USUAL_FILLING, 'pressure')}, for bags"
        noted.append(Assumption("filling.pump-pressure", most, "common practice"))
    guesses = (*layout.guesses, *_flows(layout, engines))
    done = replace(layout, engines=engines, tanks=tanks, fuel=fuel, guesses=guesses)
    return replace(done, assumptions=tuple(noted))


Note = Callable[[str, float, str, str], float]


def _each(values: dict[str, Value], change: Callable[[Value], Value]) -> dict[str, Value]:
    return {name: change(value) for name, value in values.items()}


def _engine(layout: Layout, engine: Engine, note: Note) -> Engine:
    path = f"engines.{engine.name}"
    full, idle, bore = engine.full_flow, engine.idle_flow, engine.bore
    pressure_full, pressure_idle = engine.feed_pressure_full, engine.feed_pressure_idle
    if full is None and engine.thrust is not None:
        found = float(demand.full_flow(engine.thrust))
        full = note(f"{path}.full-flow", found, "flow", _band(engine.thrust))
    if idle is None and full is not None:
        found = demand.IDLE_SHARE * full
        idle = note(f"{path}.idle-flow", found, "flow", usual.IDLE_SOURCE)
    if pressure_full is None:
        source = usual.FEED_FULL_SOURCE
        pressure_full = note(f"{path}.feed-pressure-full", usual.FEED_FULL, "pressure", source)
    if pressure_idle is None:
        source = usual.FEED_IDLE_SOURCE
        pressure_idle = note(f"{path}.feed-pressure-idle", usual.FEED_IDLE, "pressure", source)
    if engine.flame_out_gas_share is None:
        likely, low, high = demand.FLAME_OUT_GAS
        source = f"common practice, {low:.0%} to {high:.0%}"
        note(f"{path}.flame-out-gas-share", likely, "share", source)
    if bore is None:
        found_bore = _joint_bore(layout, engine.name, "feed")
        if found_bore is not None:
            bore = note(f"{path}.bore", found_bore, "length", "the joint on it")
    return replace(
        engine,
        full_flow=full,
        idle_flow=idle,
        feed_pressure_full=pressure_full,
        feed_pressure_idle=pressure_idle,
        bore=bore,
    )


def _flows(layout: Layout, engines: dict[str, Engine]) -> Iterator[Guess]:
    """Full flows that were taken from the thrust; engines of one thrust are alike."""
    alike: dict[float, list[str]] = {}
    for name, engine in layout.engines.items():
        if engine.full_flow is None and engine.thrust is not None:
            alike.setdefault(engine.thrust, []).append(name)
    for thrust, names in alike.items():
        low, high = (float(edge) for edge in demand.full_flow_band(thrust))
        paths = tuple(f"engines.{name}.full-flow" for name in names)
        words = f"flow of {' and '.join(names)} at full throttle"
        yield Guess(paths, words, "flow", low, engines[names[0]].full_flow or high, high)


def _bodies(layout: Layout) -> Iterator[Assumption]:
    """Widths of bodies that the file does not state, once for every kind of part."""
    for section, kind in usual.BODIES.items():
        if any(part.body is None for part in getattr(layout, section).values()):
            width = units.show(usual.WIDTHS[kind], "length")
            yield Assumption(f"{section}.body", f"a ball of {width}", usual.WIDTH_SOURCE)
    for engine in layout.engines.values():
        wide = usual.engine_width(engine)
        if wide is not None:
            path = f"engines.{engine.name}.body"
            yield Assumption(path, f"{units.show(wide, 'length')} wide", usual.ENGINE_SOURCE)
    for tank in layout.tanks.values():
        if tank.wall is None or tank.wall.thickness is None:
            path = f"tanks.{tank.name}.wall.thickness"
            yield Assumption(path, units.show(usual.WALL, "length"), usual.WALL_SOURCE)


def _band(thrust: float) -> str:
    """Source of an assumed full flow, with the band engines of that thrust are seen in."""
    low, high = (units.show(float(edge), "flow") for edge in demand.full_flow_band(thrust))
    return f"usual engines of {units.show(thrust, 'force')}, {low} to {high}, common practice"


def _open_baffles(tank: Tank) -> bool:
    return any(not baffle.holes for baffle in tank.baffles)


def _passed(tank: Tank) -> Assumption:
    """Baffles whose holes are not stated part a tank for slosh only."""
    said = "without stated holes, open at floor and roof: fuel and air pass them at once"
    return Assumption(f"tanks.{tank.name}.baffles", said, "common practice")


def _tank(layout: Layout, tank: Tank, note: Note) -> Tank:
    ports = _each(tank.ports, lambda port: _port(layout, tank, port, note))
    return replace(tank, ports=ports, wall=_bag(tank, note) if tank.is_bag else tank.wall)


def _bag(tank: Tank, note: Note) -> Wall | None:
    """Wall of a bag, with what the law of its pressure needs."""
    wall, path = tank.wall, f"tanks.{tank.name}.wall"
    if wall is not None and wall.stays is None:
        stays = note(f"{path}.stays", bags.USUAL_STAYS, "share", "common practice, 1 to 5 %")
        wall = replace(wall, stays=stays)
    if wall is not None and wall.collapse_suction is None:
        source = "common practice, of thin film"
        folds = note(f"{path}.collapse-suction", bags.USUAL_COLLAPSE, "pressure", source)
        wall = replace(wall, collapse_suction=folds)
    if wall is not None and wall.proof_pressure is None:
        source = "common practice, of welded seams"
        proof = note(f"{path}.proof-pressure", bags.USUAL_PROOF, "pressure", source)
        wall = replace(wall, proof_pressure=proof)
    return wall


def _port(layout: Layout, tank: Tank, port: Port, note: Note) -> Port:
    path = f"tanks.{tank.name}.ports.{port.name}"
    bore, pickup = port.bore, port.pickup
    if bore is None:
        found = _joint_bore(layout, tank.name, port.name)
        if found is not None:
            bore = note(f"{path}.bore", found, "length", "the joint on it")
    if pickup and pickup.reach is None and pickup.hose and pickup.hangs:
        reach = pickup.hose.length + (pickup.length or usual.CLUNK)
        note(f"{path}.pickup.reach", reach, "length", "its hose and the clunk")
        pickup = replace(pickup, reach=reach)
    return replace(port, bore=bore, pickup=pickup)


def _joint_bore(layout: Layout, part: str, port: str) -> float | None:
    """Bore of the joint by which a line is put on a port, if both are stated."""
    for line in layout.lines.values():
        for end, reference in (("from", line.from_), ("to", line.to)):
            if split_port(reference) == (part, port):
                joint = layout.joint_at(line, end)
                return joint.bore if joint else None
    return None


def _stream_at(outlet: Outlet) -> Assumption:
    """The usual pressure coefficient of an outlet, with its band."""
    likely, low, high = facing_coefficient(outlet.facing or "unstated")
    looks = f"facing {outlet.facing}" if outlet.facing else "facing not stated"
    value = f"{likely:g} ({low:g} to {high:g})"
    path = f"outlets.{outlet.name}.pressure-coefficient"
    return Assumption(path, value, f"{looks}, common practice")


def _fuel(fuel: Fuel, note: Note, noted: list[Assumption]) -> Fuel:
    """Fuel and oil with the values of the usual liquids where the file has none of its own."""
    density, points = fuel.density_15, fuel.viscosity
    oil_density, oil_points = fuel.oil_density, fuel.oil_viscosity
    oil = liquid(usual.OIL)
    if fuel.kind != "own":
        base = liquid(fuel.kind)
        if density is None:
            density = note("fuel.density-15", base.density_15, "density", base.source)
        points = points or _points(base, "fuel.viscosity", noted)
    if oil_density is None:
        oil_density = note("fuel.oil-density", oil.density_15, "density", oil.source)
    oil_points = oil_points or _points(oil, "fuel.oil-viscosity", noted)
    return replace(
        fuel,
        density_15=density,
        viscosity=points,
        oil_density=oil_density,
        oil_viscosity=oil_points,
    )


def _points(known: Liquid, path: str, noted: list[Assumption]) -> tuple[ViscosityPoint, ...]:
    points = (
        ViscosityPoint(at=known.cold_celsius, value=known.nu_cold),
        ViscosityPoint(at=known.warm_celsius, value=known.nu_warm),
    )
    shown = [
        f"{units.show(p.value, 'viscosity')} at {units.show(p.at, 'temperature')}" for p in points
    ]
    noted.append(Assumption(path, ", ".join(shown), known.source))
    return points


def _routed(layout: Layout, line: Line) -> float:
    """Length of a line's route with its corners rounded [m]."""
    ends = [
        port_position(layout.part(name), port)
        for name, port in (split_port(line.from_), split_port(line.to))
    ]
    points = (ends[0], *line.route, ends[1])
    radius = line.bend_radius or layout.tube_of(line).bend_radius or 0.0
    return filleted_length(points, radius)
