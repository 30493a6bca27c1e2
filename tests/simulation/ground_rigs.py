"""Small systems for the tests: box tanks and plain tube, which can be worked by hand."""

from dataclasses import replace

from plumbing.model.engine import Engine
from plumbing.model.fuel import Fuel
from plumbing.model.layout import Layout
from plumbing.model.line import Line, Tube
from plumbing.model.parts import FillPort, Outlet, Plug, Pump, Tee, Valve
from plumbing.model.tank import Box, Port, Tank, Wall

MM = 1e-3


def tube(bore):
    """A smooth tube of that bore [mm]."""
    return Tube(
        name="tube",
        outside_diameter=(bore + 2) * MM,
        inside_diameter=bore * MM,
        material="urethane",
        roughness=0.0,
    )


def box(name, at, size, role="main", wall=None, fill=1.0, **ports):
    """A box tank, centre and size in mm; ports by name, each a point in mm, of the tube's bore."""
    return Tank(
        name=name,
        role=role,
        shape=Box(at=_mm(at), size=_mm(size)),
        displaced=0.0,
        fill=fill,
        wall=wall,
        ports={port: Port(name=port, at=_mm(where)) for port, where in ports.items()},
    )


def composite(proof=20e3, collapse=10e3):
    """A wall proved to a pressure [Pa] that folds at a suction [Pa]."""
    return Wall(kind="composite", proof_pressure=proof, collapse_suction=collapse)


def rig(tanks, lines, *, bore=4.0, **parts):
    """A layout.

    `lines` maps name to (from, to, length in mm[, route points in mm]); parts are given as
    outlets={name: point}, fill_ports=..., tees=..., pumps=..., engines=..., valves=..., points in
    mm, or as parts of the model. `filling`, `parking`, `flights` and other sections go through.
    """
    made = {
        "outlets": lambda n, at: Outlet(name=n, at=at, bore=bore * MM),
        "plugged": lambda n, at: Outlet(
            name=n, at=at, bore=bore * MM, plug=Plug(fitted_in_flight=True)
        ),
        "fill_ports": lambda n, at: FillPort(name=n, at=at, bore=bore * MM, valve=True, cap=True),
        "tees": lambda n, at: Tee(name=n, at=at, bore=bore * MM),
        "pumps": lambda n, at: Pump(name=n, at=at, bore=bore * MM, leak_flow=5e-6 / 60),
        "engines": lambda n, at: Engine(name=n, at=at, full_flow=5e-6, idle_flow=1e-6),
        "valves": lambda n, at: Valve(name=n, at=at, bore=bore * MM, kind="shut-off"),
    }
    sections = {}
    for kind, maker in made.items():
        given = parts.pop(kind, {})
        section = "outlets" if kind == "plugged" else kind
        sections.setdefault(section, {}).update(
            {n: maker(n, _mm(p)) if isinstance(p, tuple) else p for n, p in given.items()}
        )
    return replace(
        Layout(
            format=1,
            title="rig",
            origin="nose",
            fuel=Fuel(oil=0.0),
            engines=sections.pop("engines"),
            tanks={tank.name: _bored(tank, bore) for tank in tanks},
            lines={name: _line(name, *ends) for name, ends in lines.items()},
            tubes={"tube": tube(bore)},
            **sections,
        ),
        **parts,
    )


def _bored(tank, bore):
    ports = {name: replace(port, bore=bore * MM) for name, port in tank.ports.items()}
    return replace(tank, ports=ports)


def _line(name, start, end, length, route=()):
    return Line(
        name=name,
        from_=start,
        to=end,
        tube="tube",
        cut_length=length * MM,
        route=tuple(_mm(point) for point in route),
    )


def _mm(point):
    return tuple(MM * value for value in point)
