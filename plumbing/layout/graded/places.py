"""Places of parts whose place is not said: beside what they are joined to, floors at one height."""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from plumbing.geometry.mesh import Mesh
from plumbing.layout.graded.ranges import AFT, RISE, TANK_RISE
from plumbing.layout.graded.unsaid import Unsaid
from plumbing.model.fields import Vector
from plumbing.model.layout import PART_SECTIONS, Layout, Part, split_port
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Port, Tank
from plumbing.physics.arrays import Array

_STEP = np.array([0.08, 0.0, 0.0])  # from a part to the next one [m]
_LOW = ("out", "drain")  # ports low in the aft wall, by the beginning of their names
_SUMP = 0.12  # height of such a port over the floor, of the height of the tank


def placed(layout: Layout, unsaid: Unsaid) -> Layout:
    """Put parts and ports whose place the file does not say where they could be.

    Parameters
    ----------
    layout : Layout
        As read, with those parts at the origin.
    unsaid : Unsaid
        What the file does not say; heights that count are added.

    Returns
    -------
    Layout
        With every part in its place, and everything that was filled in.
    """
    layout = replace(layout, unsaid=tuple(unsaid.paths))
    loose = {name for name in _names(layout) if _is_loose(layout, name, unsaid)}
    if loose or unsaid.paths:
        layout = _settled(layout, loose, unsaid)
    return replace(layout, guesses=tuple(unsaid.guesses.values()))


def _settled(layout: Layout, loose: set[str], unsaid: Unsaid) -> Layout:
    spots = _spots(layout, loose)
    for name, height in unsaid.heights.items():
        spots[name][2] = height
    _heights(layout, loose, unsaid)
    sections: dict[str, Any] = {}
    for section in PART_SECTIONS:
        sections[section] = {
            name: _moved(part, spots[name]) if name in loose else part
            for name, part in getattr(layout, section).items()
        }
    sections["tanks"] = {
        name: _with_ports(tank, unsaid) for name, tank in sections["tanks"].items()
    }
    return replace(layout, **sections)


def _names(layout: Layout) -> Iterator[str]:
    return (part.name for part in layout.parts())


def _is_loose(layout: Layout, name: str, unsaid: Unsaid) -> bool:
    return any(
        f"{section.replace('_', '-')}.{name}.{key}" in unsaid.paths
        for section in PART_SECTIONS
        for key in ("at", "shape", "shape.at")
        if name in getattr(layout, section)
    )


def _spots(layout: Layout, loose: set[str]) -> dict[str, Array]:
    """Where every part is: what is not placed comes beside what it is joined to [m]."""
    spots = {part.name: _spot(part) for part in layout.parts() if part.name not in loose}
    beside: dict[str, list[tuple[str, Array | None]]] = {name: [] for name in _names(layout)}
    for line in layout.lines.values():
        start, end = split_port(line.from_)[0], split_port(line.to)[0]
        near = (
            [np.array(point) for point in line.route[:1]],
            [np.array(point) for point in line.route[-1:]],
        )
        beside[start].append((end, near[0][0] if near[0] else None))
        beside[end].append((start, near[1][0] if near[1] else None))
    waiting = [name for name in _names(layout) if name in loose]
    while waiting:
        found = next((name for name in waiting if any(n in spots for n, _ in beside[name])), None)
        name = found or waiting[0]
        waiting.remove(name)
        near_by = [
            spots[other] if bend is None else bend
            for other, bend in beside[name]
            if other in spots or bend is not None
        ]
        if not near_by:
            spots[name] = np.zeros(3)
        elif len(near_by) == 1:
            spots[name] = near_by[0] + _STEP
        else:
            spots[name] = np.mean(near_by, axis=0) + 1e-3
    return spots


def _spot(part: Part) -> Array:
    """Place of a part; of a tank the middle of its floor [m]."""
    if not isinstance(part, Tank):
        return np.array(part.at)
    low, high = tank_mesh(part).bounds
    return np.array([*(0.5 * (low + high))[:2], low[2]])


def _moved(part: Any, spot: Array) -> Any:
    """Part at its spot; a tank stands on it."""
    if not isinstance(part, Tank):
        return replace(part, at=_vector(spot))
    half = np.array([0.0, 0.0, 0.5 * tank_mesh(part).size[2]])
    return replace(part, shape=replace(part.shape, at=_vector(spot + half)))


def _heights(layout: Layout, loose: set[str], unsaid: Unsaid) -> None:
    """Note the heights that count: of tanks and pumps, over the floor of the first tank."""
    mains = [name for name, tank in layout.tanks.items() if tank.role == "main"]
    level = mains[0] if mains and len(loose) == sum(1 for _ in layout.parts()) else ""
    for section, key, words in (("tanks", "floor", "the floor"), ("pumps", "height", "the inlet")):
        for name in getattr(layout, section):
            if name in loose and name != level and name not in unsaid.heights:
                what = f"height of {words} of {name}" + (f" over that of {level}" if level else "")
                could = TANK_RISE if section == "tanks" else RISE
                unsaid.number(f"{section}.{name}.{key}", what, "length", could, stated=False)
            if name in loose and name != level:
                what = f"distance of {name} fore and aft" + (f" from {level}" if level else "")
                unsaid.number(f"{section}.{name}.aft", what, "length", AFT, stated=False)


def _with_ports(tank: Tank, unsaid: Unsaid) -> Tank:
    """Tank with its ports in the roof, or low in the aft wall, where their place is not said."""
    path = f"tanks.{tank.name}.ports"
    loose = [name for name in tank.ports if f"{path}.{name}.at" in unsaid.paths]
    if not loose:
        return tank
    mesh = tank_mesh(tank)
    low = np.array([*mesh.middle[:2], mesh.bounds[0, 2] + _SUMP * mesh.size[2]])
    roof, side = _pierced(mesh, 2, mesh.middle), _pierced(mesh, 0, low)
    ports: dict[str, Port] = dict(tank.ports)
    for name in loose:
        port = replace(ports[name], at=side if name.startswith(_LOW) else roof)
        if f"{path}.{name}.pickup" in unsaid.paths and port.pickup is not None:
            port = reaching(port, _vector(mesh.size))
        ports[name] = port
    return replace(tank, ports=ports)


def reaching(port: Port, size: Vector) -> Port:
    """Port in the middle of a roof with a clunk whose hose reaches floor and end of the tank.

    Parameters
    ----------
    port : Port
        The port.
    size : tuple of float
        Length, width and height of the tank [m].
    """
    if port.pickup is None:
        return port
    reach = math.hypot(0.5 * max(size[:2]), size[2])
    return replace(port, pickup=replace(port.pickup, reach=reach))


def _pierced(mesh: Mesh, axis: int, point: Array) -> Vector:
    """Farthest point of a solid on a straight through a point, along an axis [m]."""
    across = [other for other in range(3) if other != axis]
    corners = mesh.vertices[mesh.faces]
    a, b, c = (corners[:, number][:, across] for number in range(3))
    area = _cross(b - a, c - a)
    beside = np.abs(area) <= 1e-15  # along the straight
    area = np.where(beside, 1.0, area)
    second = _cross(point[across] - a, c - a) / area
    third = _cross(b - a, point[across] - a) / area
    met = ~beside & (second >= -1e-9) & (third >= -1e-9) & (second + third <= 1.0 + 1e-9)
    along = corners[:, 0, axis] + second * (corners[:, 1, axis] - corners[:, 0, axis])
    along = along + third * (corners[:, 2, axis] - corners[:, 0, axis])
    found = np.array(point)
    found[axis] = along[met].max() if met.any() else mesh.bounds[1, axis]
    return _vector(found)


def _cross(a: Array, b: Array) -> Array:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _vector(point: Array) -> Vector:
    x, y, z = (float(one) for one in point)
    return (x, y, z)
