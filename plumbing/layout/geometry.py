"""Geometry that cannot be: solids that are none, and what lies outside them."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np

from plumbing import units
from plumbing.geometry import polygon
from plumbing.geometry.faults import LARGEST, SMALLEST, faults_of
from plumbing.geometry.inset import contains
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.near import surface_distance
from plumbing.layout import outlines, stl
from plumbing.layout.gathering import Faults
from plumbing.model import tank as model
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout, port_names, port_position, split_port
from plumbing.model.line import Line
from plumbing.model.meshes import solid_mesh
from plumbing.model.structure import Former
from plumbing.model.tank import Tank
from plumbing.place import Place

MOST_ZONES = 400  # each is measured against everything else
MOST_TANKS = 40  # each is meshed, which takes a while
MOST_PASSAGES = 400  # each is drawn on a sheet of its former, which takes memory
_BODIES = (
    ("zones", "body"),
    ("tees", "body"),
    ("filters", "body"),
    ("pumps", "body"),
    ("valves", "body"),
    ("connectors", "body"),
    ("engines", "body"),
)
_MOST_WALLS, _APART = 12, 1e-3  # baffles that part a tank, and their distance [m]
NEAR = 3e-3  # a port's position is measured with a ruler [m]


def check(
    layout: Layout,
    folder: str,
    faults: Faults,
    settle: Callable[[Layout], Layout] = lambda layout: layout,
) -> Layout:
    """Note impossible geometry; meshes named by the file are read into it.

    Parameters
    ----------
    layout : Layout
        What could be read of the file.
    folder : str
        Folder of the file, below which meshes must be.
    faults : Faults
        Receives the faults.
    settle : callable
        Puts what has no place yet into one, once all solids are sound.

    Returns
    -------
    Layout
        With the meshes filled in, and settled where it has no faults.
    """
    if _too_many(layout, faults):
        return layout
    layout = _with_meshes(layout, folder, faults)
    layout = _tanks(layout, faults, settle)
    for section, field in _BODIES:
        for one in getattr(layout, section).values():
            body = getattr(one, field)
            if isinstance(body, model.Solid):
                _solid(body, f"`{one.name}`", faults)
    if layout.aircraft.airframe is not None:
        _solid(layout.aircraft.airframe, "the airframe", faults)
    for line in layout.lines.values():
        _line(layout, line, faults)
    for former in layout.formers.values():
        _former(former, faults)
    return layout


def _too_many(layout: Layout, faults: Faults) -> bool:
    """Whether there is more of something than is looked at, which is noted."""
    passages = sum(len(former.passages) for former in layout.formers.values())
    counts = (
        ("tanks", "tanks", len(layout.tanks), MOST_TANKS),
        ("formers", "passages", passages, MOST_PASSAGES),
        ("zones", "zones", len(layout.zones), MOST_ZONES),
    )
    beyond = [one for one in counts if one[2] > one[3]]
    for section, words, count, most in beyond:
        faults.add(layout.place_of(section), f"{count} {words}", f"at most {most} {words}")
    return bool(beyond)


def _with_meshes(layout: Layout, folder: str, faults: Faults) -> Layout:
    """Layout with the triangles of all mesh files it names."""
    sections: dict[str, Any] = {}
    for section, field in (("tanks", "shape"), *_BODIES):
        sections[section] = {
            name: replace(one, **{field: stl.filled(getattr(one, field), folder, faults)})
            for name, one in getattr(layout, section).items()
        }
    airframe = stl.filled(layout.aircraft.airframe, folder, faults)
    return replace(layout, aircraft=replace(layout.aircraft, airframe=airframe), **sections)


def _tanks(layout: Layout, faults: Faults, settle: Callable[[Layout], Layout]) -> Layout:
    """Note solids that are none; settle the layout; note what lies outside its tank."""
    drawn = {
        name: (tank.shape, _solid(tank.shape, f"tank `{name}`", faults, SMALLEST))
        for name, tank in layout.tanks.items()
    }
    if not faults.found:
        layout = settle(layout)
    for name, tank in layout.tanks.items():
        shape, mesh = drawn[name]
        _tank(tank, mesh if tank.shape is shape else solid_mesh(tank.shape), faults)
    return layout


def _tank(tank: Tank, mesh: Mesh | None, faults: Faults) -> None:
    if mesh is not None:
        _ports(tank, mesh, faults)
        _reaches(tank, mesh, faults)
        _baffles(tank, mesh, faults)


def _solid(shape: model.Solid, what: str, faults: Faults, thinnest: float = 0.0) -> Mesh | None:
    """Mesh of a solid; None where it is none, and its faults are noted."""
    if isinstance(shape, model.Mesh) and not shape.faces:
        return None  # not read; its fault is noted
    if isinstance(shape, model.Prism) and not outlines.sections_fit(shape, what, faults):
        return None
    mesh = solid_mesh(shape)
    reasons = _size(mesh, thinnest)
    if isinstance(shape, model.Prism) and not reasons:
        reasons = faults_of(mesh)
    for reason in reasons:
        faults.add(shape.place, f"the solid of {what}: {reason}", "a closed solid")
    return None if reasons else mesh


def _size(mesh: Mesh, thinnest: float) -> list[str]:
    longest, shortest = float(mesh.size.max()), float(mesh.size.min())
    if longest > LARGEST:
        return [f"it is {longest:.3g} m long; is its unit right?"]
    if shortest < thinnest:
        return [f"it is only {shortest * 1e3:.3g} mm thick; is its unit right?"]
    return []


def _ports(tank: Tank, mesh: Mesh, faults: Faults) -> None:
    """Note ports, their inner ends and fixed pickups that lie outside their tank."""
    spots: list[tuple[str, Vector, Place]] = []
    for name, port in tank.ports.items():
        spots.append((f"port `{name}`", port.at, port.place_of("at")))
        if port.opens_at:
            spots.append((f"the inner end of `{name}`", port.opens_at, port.place_of("opens_at")))
        if port.pickup and port.pickup.rest:
            words = f"the pickup of `{name}`"
            spots.append((words, port.pickup.rest, port.pickup.place_of("rest")))
    if not spots:
        return
    points = np.array([spot[1] for spot in spots])
    away = np.where(contains(mesh, points), 0.0, surface_distance(mesh, points))
    for (what, _, place), distance in zip(spots, away, strict=True):
        if distance > NEAR:
            found = f"{what} {_mm(distance)} outside tank `{tank.name}`"
            faults.add(place, found, f"a point in or on the tank: {_extent(mesh)}")


def _reaches(tank: Tank, mesh: Mesh, faults: Faults) -> None:
    diagonal = float(np.linalg.norm(mesh.size))
    for name, port in tank.ports.items():
        reach = port.pickup.reach if port.pickup else None
        if port.pickup and reach and reach > diagonal + NEAR:
            found = f"a reach of {_mm(reach)} at `{tank.name}.{name}`"
            expected = f"at most the tank's diagonal, {_mm(diagonal)}"
            faults.add(port.pickup.place_of("reach"), found, expected)


def _baffles(tank: Tank, mesh: Mesh, faults: Faults) -> None:
    (low, high) = mesh.bounds[:, 0]
    for baffle in tank.baffles:
        if not low < baffle.at < high:
            found = f"a baffle at x = {_mm(baffle.at)} outside tank `{tank.name}`"
            faults.add(baffle.place_of("at"), found, f"x from {_mm(low)} to {_mm(high)}")
            continue
        for hole in baffle.holes:
            y, z = hole.at
            if not contains(mesh, np.array([[baffle.at, y, z]]))[0]:
                found = f"a hole of the baffle at x = {_mm(baffle.at)} outside tank `{tank.name}`"
                faults.add(hole.place_of("at"), found, "a centre [y, z] inside the tank there")
    walls = sorted(baffle.at for baffle in tank.baffles if baffle.holes)
    near = [b for a, b in itertools.pairwise(walls) if b - a < _APART]
    if near or len(walls) > _MOST_WALLS:
        found = f"{len(walls)} baffles with holes in tank `{tank.name}`"
        found += f", two of them at x = {_mm(near[0])}" if near else ""
        expected = f"at most {_MOST_WALLS}, {_mm(_APART)} or more apart"
        faults.add(tank.place_of("baffles"), found, expected)


def _line(layout: Layout, line: Line, faults: Faults) -> None:
    """Note routes that stand still."""
    ends = [_position(layout, reference) for reference in (line.from_, line.to)]
    points = [ends[0], *line.route, ends[1]]
    if line.from_ == line.to:
        return  # reported as such
    if not line.route and None not in ends and ends[0] == ends[1] and line.cut_length is None:
        faults.add(
            line.place,
            f"line `{line.name}` between two ports at one point",
            "two points apart, or `cut-length`",
        )
        return
    if line.route and any(a is not None and a == b for a, b in itertools.pairwise(points)):
        faults.add(
            line.place_of("route"), f"a point twice in the route of `{line.name}`", "points apart"
        )


def _position(layout: Layout, reference: str) -> Vector | None:
    name, port = split_port(reference)
    try:
        part = layout.part(name)
    except KeyError:
        return None
    ports = port_names(part)
    port = port or (ports[0] if len(ports) == 1 else "")
    return port_position(part, port) if port in ports else None


def _former(former: Former, faults: Faults) -> None:
    place = former.place_of("outline")
    what = f"the outline of `{former.name}`"
    if not former.outline or not outlines.is_simple(former.outline, what, place, faults):
        return
    corners = np.array(former.outline)
    if abs(polygon.signed_area(corners)) < 1e-8:
        faults.add(place, f"{what} without area", "corners in order round the former")
        return
    for name, passage in former.passages.items():
        if not polygon.inside(corners, np.array([passage.at]))[0]:
            axes = "[y, z]" if former.across == "x" else "[x, z]"
            found = f"passage `{name}` outside former `{former.name}`"
            faults.add(passage.place_of("at"), found, f"a centre {axes} inside its outline")


def _extent(mesh: Mesh) -> str:
    low, high = mesh.bounds
    return ", ".join(
        f"{axis} from {_mm(a)} to {_mm(b)}" for axis, a, b in zip("xyz", low, high, strict=True)
    )


def _mm(value: float) -> str:
    return units.show(float(value), "length", 4)
