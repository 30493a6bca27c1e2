"""A layout with other values where the file says none."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from plumbing.findings import Guess
from plumbing.layout.graded.places import reaching
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout
from plumbing.model.parts import Joint
from plumbing.model.tank import Box, Port, Tank

_BARB = "barb, bore not said"


def laid(layout: Layout, values: Mapping[Guess, float]) -> Layout:
    """Layout with values taken elsewhere in their range.

    Parameters
    ----------
    layout : Layout
        The layout with the usual ones.
    values : mapping of Guess to float
        Values [SI].
    """
    for guess, value in values.items():
        if value != guess.usual:
            for path in guess.paths:
                layout = _with(layout, path, value, guess.usual)
    return layout


def _with(layout: Layout, path: str, value: float, usual: float) -> Layout:
    section, name, *keys = path.split(".")
    field = section.replace("-", "_")
    parts: Mapping[str, Any] = getattr(layout, field)
    if name not in parts:
        return layout
    match section, keys:
        case "lines", [key]:
            return _line(layout, name, key, value)
        case "tanks", ["shape", "size"]:
            part = _stretched(parts[name], value / usual, layout.unsaid)
        case "tanks", ["floor"]:
            part = _moved(parts[name], lambda point: _shifted(point, 2, value - usual))
        case "tanks", ["aft"]:
            part = _moved(parts[name], lambda point: _shifted(point, 0, value - usual))
        case "tanks", ["ports", port, "bore"]:
            ports = parts[name].ports
            part = replace(parts[name], ports={**ports, port: replace(ports[port], bore=value)})
        case "pumps", ["height" | "aft" as way]:
            axis = 2 if way == "height" else 0
            part = replace(parts[name], at=_shifted(parts[name].at, axis, value - usual))
        case "engines", ["full-flow"]:
            engine = parts[name]
            part = replace(
                engine, full_flow=value, idle_flow=(engine.idle_flow or 0.0) * value / usual
            )
        case _, [key]:
            part = replace(parts[name], **{key.replace("-", "_"): value})
        case _:
            return layout
    changed: dict[str, Any] = {field: {**parts, name: part}}
    return replace(layout, **changed)


def _line(layout: Layout, name: str, key: str, value: float) -> Layout:
    line = layout.lines[name]
    if key == "cut-length":
        return replace(layout, lines={**layout.lines, name: replace(line, cut_length=value)})
    if key == "joint":
        joint = Joint(name=f"{_BARB} {value:g}", kind="barb", bore=value)
        lines = {**layout.lines, name: replace(line, joint=joint.name)}
        return replace(layout, lines=lines, joints={**layout.joints, joint.name: joint})
    own = layout.tube_of(line)
    outside = own.outside_diameter + value - own.inside_diameter
    tube = replace(
        own, name=f"{own.name} of {value:g}", inside_diameter=value, outside_diameter=outside
    )
    lines = {**layout.lines, name: replace(line, tube=tube.name)}
    return replace(layout, lines=lines, tubes={**layout.tubes, tube.name: tube})


def _shifted(point: Vector, axis: int, by: float) -> Vector:
    x, y, z = (one + by * (number == axis) for number, one in enumerate(point))
    return x, y, z


def _stretched(tank: Tank, factor: float, unsaid: tuple[str, ...]) -> Tank:
    """A box tank so much taller, its floor where it was and its volume as said."""
    shape = tank.shape
    if not isinstance(shape, Box):
        return tank
    across = factor**-0.5
    centre, floor = shape.at, shape.at[2] - 0.5 * shape.size[2]

    def moved(point: Vector) -> Vector:
        x, y = (c + across * (p - c) for p, c in zip(point[:2], centre[:2], strict=True))
        return x, y, floor + factor * (point[2] - floor)

    long, wide, tall = shape.size
    size = (across * long, across * wide, factor * tall)
    done = _moved(tank, moved)
    ports = {
        port.name: reaching(port, size)
        if f"tanks.{tank.name}.ports.{port.name}.pickup" in unsaid
        else port
        for port in done.ports.values()
    }
    return replace(done, shape=replace(shape, at=done.shape.at, size=size), ports=ports)


def _moved(tank: Tank, move: Callable[[Vector], Vector]) -> Tank:
    """Tank with every point of it moved."""
    shape = replace(tank.shape, at=move(tank.shape.at))
    ports = {name: _port(port, move) for name, port in tank.ports.items()}
    return replace(tank, shape=shape, ports=ports)


def _port(port: Port, move: Callable[[Vector], Vector]) -> Port:
    pickup = port.pickup
    if pickup is not None and pickup.rest is not None:
        pickup = replace(pickup, rest=move(pickup.rest))
    opens = None if port.opens_at is None else move(port.opens_at)
    return replace(port, at=move(port.at), opens_at=opens, pickup=pickup)
