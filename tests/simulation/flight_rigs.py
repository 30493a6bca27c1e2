"""Small fuel systems to fly in the tests, and the same ones renamed, reordered, moved, mirrored."""

from dataclasses import fields, is_dataclass, replace

import numpy as np
from ground_rigs import box, rig

from plumbing.model.engine import Engine
from plumbing.model.flight import Phase
from plumbing.model.tank import Pickup
from plumbing.network import survey
from plumbing.simulation.flight import fly
from plumbing.simulation.profile import profile_of

ML = 1e-6
PER_MINUTE = 1e-6 / 60.0  # ml/min
FLOOR = 0.001  # pickups open this far above the floor [mm]


def engine(full, idle=None, **more):
    """An engine that burns so much [ml/min]; at idle as much as at full unless stated."""
    return Engine(
        name="engine",
        at=(0.7, 0.0, 0.0),
        full_flow=full * PER_MINUTE,
        idle_flow=(full if idle is None else idle) * PER_MINUTE,
        **more,
    )


def steady(seconds, **more):
    """One phase at full throttle."""
    return profile_of("steady", [Phase(duration=seconds, throttle=1.0, **more)])


def flown(layout, profile):
    """Fly a layout."""
    return fly(layout, survey(layout), profile)


def single(flow=160.0, size=(150, 80, 60), rest=None, fill=1.0, header=None, **more):
    """One vented tank (and a header of that size) feeding a pump; pickup at a point [mm]."""
    x, _, z = size
    rest = rest or (0, 0, -z / 2 + FLOOR)
    main = box("main", (0, 0, 0), size, fill=fill, feed=rest, vent=(0, 0, z / 2))
    lines = {
        "vent line": ("main.vent", "vent.tube", 100),
        "to engine": ("pump.out", "engine.feed", 200),
    }
    tanks = [main]
    if header:
        hx, _, hz = header
        at = (x / 2 + hx / 2 + 50, 0, -z / 2 - hz / 2)
        tanks.append(
            box(
                "header",
                at,
                header,
                role="header",
                into=(at[0], 0, -z / 2),
                out=(at[0], 0, at[2] - hz / 2 + FLOOR),
            )
        )
        lines["feed"] = ("main.feed", "header.into", 200)
        lines["to pump"] = ("header.out", "pump.in", 200)
    else:
        lines["feed"] = ("main.feed", "pump.in", 200)
    parts = {
        "pumps": {"pump": (300, 0, -z / 2)},
        "engines": {"engine": engine(flow)},
        "outlets": {"vent": (0, 0, z / 2 + 20)},
    }
    return rig(tanks, lines, **{**parts, **more})


def teed(near=300, far=900, flow=160.0, size=(150, 80, 60), header=None, bore=4.0, pore=None):
    """Two vented tanks abreast, teed to a pump (or header) by branches of these lengths [mm]."""
    z = size[2] / 2
    tanks = [
        box(name, (0, y, 0), size, feed=(0, y, -z + FLOOR), vent=(0, y, z))
        for name, y in (("near", -60), ("far", 60))
    ]
    if pore:
        tanks = [_fine(tank, pore) for tank in tanks]
    lines = {
        "near branch": ("near.feed", "tee.run-a", near),
        "far branch": ("far.feed", "tee.run-b", far),
        "near vent line": ("near.vent", "near vent.tube", 100),
        "far vent line": ("far.vent", "far vent.tube", 100),
        "to engine": ("pump.out", "engine.feed", 200),
    }
    if header:
        at = (200, 0, -z - header[2] / 2)
        out = (200, 0, at[2] - header[2] / 2 + FLOOR)
        tanks.append(box("header", at, header, role="header", into=(200, 0, -z), out=out))
        lines["to header"] = ("tee.branch", "header.into", 100)
        lines["to pump"] = ("header.out", "pump.in", 200)
    else:
        lines["to pump"] = ("tee.branch", "pump.in", 200)
    return rig(
        tanks,
        lines,
        bore=bore,
        tees={"tee": (100, 0, -z)},
        pumps={"pump": (300, 0, -z)},
        engines={"engine": engine(flow)},
        outlets={"near vent": (0, -60, z + 30), "far vent": (0, 60, z + 30)},
    )


def _fine(tank, pore):
    """The tank with a fine-pore pickup."""
    pickup = Pickup(kind="fine-pore", pore=pore)
    return replace(tank, ports={**tank.ports, "feed": replace(tank.ports["feed"], pickup=pickup)})


def _clunked(tank):
    """The tank with a clunk that hangs from the middle of the lid."""
    x, y, z = (0.5 * size for size in tank.shape.size)
    reach = 0.97 * float(np.sqrt(x**2 + y**2 + (2.0 * z) ** 2))
    pickup = Pickup(kind="clunk", reach=reach, diameter=6e-3)
    at = (tank.shape.at[0], tank.shape.at[1], tank.shape.at[2] + z)
    port = replace(tank.ports["feed"], at=at, pickup=pickup)
    return replace(tank, ports={**tank.ports, "feed": port})


def chained(flow=160.0, size=(150, 80, 60), second_vent=False, header=None, clunk=False, pore=None):
    """A far vented tank that feeds a near sealed one, which feeds the pump (or a header)."""
    z = size[2] / 2
    far = box("far", (0, 60, 0), size, feed=(0, 60, -z + FLOOR), vent=(0, 60, z))
    near = box(
        "near", (0, -60, 0), size, feed=(0, -60, -z + FLOOR), into=(10, -60, z), vent=(-10, -60, z)
    )
    if clunk:
        far, near = _clunked(far), _clunked(near)
    if pore:
        near = _fine(near, pore)
    lines = {
        "link": ("far.feed", "near.into", 300),
        "vent line": ("far.vent", "vent.tube", 100),
        "to engine": ("pump.out", "engine.feed", 200),
    }
    tanks, outlets = [far, near], {"vent": (0, 60, z + 30)}
    if second_vent:
        lines["second line"] = ("near.vent", "second.tube", 100)
        outlets["second"] = (0, -60, z + 30)
    else:
        ports = {name: port for name, port in near.ports.items() if name != "vent"}
        tanks[1] = replace(near, ports=ports)
    if header:
        at = (200, 0, -z - header[2] / 2)
        out = (200, 0, at[2] - header[2] / 2 + FLOOR)
        tanks.append(box("header", at, header, role="header", into=(200, 0, -z), out=out))
        lines["feed"] = ("near.feed", "header.into", 300)
        lines["to pump"] = ("header.out", "pump.in", 200)
    else:
        lines["feed"] = ("near.feed", "pump.in", 300)
    return rig(
        tanks,
        lines,
        pumps={"pump": (300, 0, -z)},
        engines={"engine": engine(flow)},
        outlets=outlets,
    )


def finite(flown):
    """Whether every number of a flight is a finite one."""
    histories = (flown.history, flown.dry_run)
    arrays = [getattr(one, entry.name) for one in histories for entry in fields(one)]
    numbers = [value for value in arrays if isinstance(value, np.ndarray)]
    names = ("usable", "on_board", "landed_with", "reserve", "endurance", "to_reserve")
    plain = [getattr(flown, name) for name in (*names, "timer", "mean_flow")]
    plain += [*flown.stranded.values(), *flown.header_air.values()]
    return all(np.isfinite(values).all() for values in numbers) and np.isfinite(plain).all()


def closure(history):
    """Largest part of the fuel on board that a history loses or invents."""
    total = history.volume.sum(axis=1) + history.burnt.sum(axis=1) + history.spilt.sum(axis=1)
    return float(np.abs(total - total[0]).max() / max(total[0], 1e-12))


def renamed(layout, word):
    """The same layout with every part and line called otherwise."""
    parts = ("engines", "tanks", "tees", "filters", "pumps", "valves", "outlets", "fill_ports")

    def new(name):
        return f"{word} {name[::-1]}"

    def again(section):
        return {new(n): replace(one, name=new(n)) for n, one in getattr(layout, section).items()}

    def end(reference):
        part, dot, port = reference.partition(".")
        return new(part) + dot + port

    lines = {
        new(name): replace(one, name=new(name), from_=end(one.from_), to=end(one.to))
        for name, one in layout.lines.items()
    }
    return replace(layout, lines=lines, **{section: again(section) for section in parts})


def reordered(layout):
    """The same layout with every section written in the other order."""
    sections = {
        entry.name: dict(reversed(getattr(layout, entry.name).items()))
        for entry in fields(layout)
        if isinstance(getattr(layout, entry.name), dict)
    }
    return replace(layout, **sections)


POINTS = ("at", "rest", "opens_at", "dry_cg", "dry_cg_gear_up")
OUTLINES = ("outline",)


def shifted(layout, by):
    """The same layout drawn from another origin, `by` [m] away."""
    return _walked(layout, lambda p: tuple(a + b for a, b in zip(p, by, strict=True)), lambda c: c)


def mirrored(layout):
    """The same layout with port and starboard exchanged."""
    return _walked(layout, lambda p: (p[0], -p[1], p[2]), lambda c: (-c[0], c[1]))


def _walked(value, point, corner, name=""):
    if name in POINTS and isinstance(value, tuple) and len(value) == 3:
        return point(value)
    if name == "route":
        return tuple(point(one) for one in value)
    if name in OUTLINES:
        return tuple(corner(one) for one in value)
    if isinstance(value, dict):
        return {key: _walked(one, point, corner) for key, one in value.items()}
    if isinstance(value, tuple):
        return tuple(_walked(one, point, corner) for one in value)
    if is_dataclass(value):
        changed = {}
        for entry in fields(value):
            old = getattr(value, entry.name)
            if entry.init and (old_new := _walked(old, point, corner, entry.name)) is not old:
                changed[entry.name] = old_new
        return replace(value, **changed) if changed else value
    return value
