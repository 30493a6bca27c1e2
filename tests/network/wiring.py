"""Layouts for the tests, wired in one line of text each.

`wire("vent - main.vent; main.pick - header.in; header.out - pump - engine")` makes the parts
by the first word of their names and joins them in the order written; pumps, filters, valves,
connectors are entered at `in` and left at `out`, tees at the next free leg.
"""

import re
from dataclasses import replace
from itertools import pairwise

from plumbing.model.engine import Engine
from plumbing.model.layout import PORT_NAMES, Layout
from plumbing.model.line import Line, Tube
from plumbing.model.parts import Connector, Drain, FillPort, Filter, Outlet, Plug, Pump, Tee, Valve
from plumbing.model.tank import Box, Pickup, Port, Tank

HERE = (0.0, 0.0, 0.0)
BORE = 4e-3
TUBE = Tube(name="tube", outside_diameter=6e-3, inside_diameter=BORE, material="urethane")

MAKERS = {
    "vent": ("outlets", lambda name: Outlet(name=name, at=HERE, bore=BORE)),
    "plugged": (
        "outlets",
        lambda name: Outlet(name=name, at=HERE, bore=BORE, plug=Plug(fitted_in_flight=True)),
    ),
    "fill": ("fill_ports", lambda name: FillPort(name=name, at=HERE, bore=BORE, valve=True)),
    "drain": ("drains", lambda name: Drain(name=name, at=HERE, bore=BORE)),
    "engine": ("engines", lambda name: Engine(name=name, at=HERE)),
    "pump": ("pumps", lambda name: Pump(name=name, at=HERE, bore=BORE)),
    "filter": ("filters", lambda name: Filter(name=name, at=HERE, bore=BORE)),
    "plug": ("connectors", lambda name: Connector(name=name, at=HERE, bore=BORE)),
    "tee": ("tees", lambda name: Tee(name=name, at=HERE, bore=BORE)),
    "valve": ("valves", lambda name: Valve(name=name, at=HERE, bore=BORE, kind="shut-off")),
    "shut": (
        "valves",
        lambda name: Valve(name=name, at=HERE, bore=BORE, kind="shut-off", flight="closed"),
    ),
    "check": ("valves", lambda name: Valve(name=name, at=HERE, bore=BORE, kind="check")),
}


def wire(text: str, alone: str = "", **changes: object) -> Layout:
    """Layout with the lines of the text, and the parts named in `alone` without any."""
    sections: dict[str, dict[str, object]] = {
        section: {} for section in ("engines", "tanks", "lines", *(s for s, _ in MAKERS.values()))
    }
    free: dict[str, list[str]] = {}
    for name in alone.split():
        _end(sections, free, name, leaving=False)
    for chain in filter(None, (part.strip() for part in text.split(";"))):
        for start, end in pairwise(name.strip() for name in chain.split(" - ")):
            name = f"line-{len(sections['lines']) + 1}"
            sections["lines"][name] = Line(
                name=name,
                from_=_end(sections, free, start, leaving=True),
                to=_end(sections, free, end, leaving=False),
                tube="tube",
            )
    made = Layout(format=1, title="test", origin="nose", tubes={"tube": TUBE}, **sections)
    return replace(made, **changes)


def line_from(layout: Layout, start: str, end: str) -> str:
    """Name of the line between two parts, whichever way it is written."""
    return next(
        line.name
        for line in layout.lines.values()
        if {line.from_.partition(".")[0], line.to.partition(".")[0]} == {start, end}
    )


def _end(sections: dict, free: dict[str, list[str]], text: str, leaving: bool) -> str:
    part, _, port = text.partition(".")
    maker = MAKERS.get(re.match(r"[a-z]*", part)[0])
    if maker is None:
        return _tank_port(sections["tanks"], part, port)
    section, make = maker
    made = sections[section].setdefault(part, make(part))
    ports = PORT_NAMES[type(made)]
    if port:
        return f"{part}.{port}"
    if section == "tees":
        return f"{part}.{free.setdefault(part, list(ports)).pop(0)}"
    return f"{part}.{ports[-1] if leaving else ports[0]}"


def _tank_port(tanks: dict[str, Tank], part: str, port: str) -> str:
    """A tank's port: named `pick...` it has a clunk, `fine...` a fine-pore one, `cap...` a cap."""
    if part not in tanks:
        tanks[part] = Tank(
            name=part,
            role="header" if part.startswith("header") else "main",
            shape=Box(at=HERE, size=(0.1, 0.1, 0.1)),
            ports={},
        )
    if not port:
        return part
    if port not in tanks[part].ports:
        kind = {"pick": "clunk", "fine": "fine-pore"}.get(port[:4])
        made = Port(
            name=port,
            at=HERE,
            pickup=Pickup(kind=kind) if kind else None,
            capped=port.startswith("cap"),
        )
        tanks[part] = replace(tanks[part], ports={**tanks[part].ports, port: made})
    return f"{part}.{port}"
