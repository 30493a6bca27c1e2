"""A short layout file of one of the usual topologies, from what a builder said."""

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from plumbing import units
from plumbing.layout.answers import Answers
from plumbing.layout.catalogue import catalogue
from plumbing.layout.forms import Field, Number, fields_of
from plumbing.layout.load import read
from plumbing.layout.scaling import Grown, corners, grown, rounded
from plumbing.layout.starting import EDITOR_LINE, STARTERS, starter
from plumbing.model.base import Named
from plumbing.model.fields import Vector
from plumbing.model.layout import Layout, port_position, split_port
from plumbing.model.line import Line
from plumbing.model.meshes import tank_mesh
from plumbing.model.parts import Valve
from plumbing.model.tank import Cylinder, Port, Tank

_SUCTION_BORE = 2.6e-3  # parts with a wider bore stand before the pump or in a vent [m]
_WIDEST = 100  # columns
_KEPT = {  # what a short file says of each kind of part besides its place and bore
    "tees": (),
    "filters": ("pore", "clean-drop", "dirty-drop"),
    "pumps": (),
    "valves": ("kind", "unpowered"),
    "connectors": (),
    "outlets": ("facing",),
    "fill_ports": (),
}
_BREAKS = re.compile(r"(?<=,) (?=[a-z-]+: |\[)")  # where a row may be broken
_WORDS = {
    "tees": "  # ports run-a, run-b, branch",
    "filters": "  # ports in, out; coarse before the pump, fine after it",
    "pumps": "  # ports in, out; its curve is not said yet",
    "outlets": "  # vents to the outside; port tube",
    "fill_ports": "  # port tube",
}
_FLIGHT = """\
flights:
  first:
    phases:
      - {name: taxi out, duration: 2 min, throttle: 6 %, on-ground: yes}
      - {name: take-off and climb, duration: 30 s, throttle: 100 %, pitch: 15 deg}
      - {name: figures, duration: 3 min, throttle: 60 %}
      - {name: approach, duration: 1 min, throttle: 20 %}
"""


@dataclass(frozen=True, slots=True)
class Shortened:
    """A short layout.

    Attributes
    ----------
    text : str
        The file.
    said, assumed : tuple of str
        What was said, and what was not and is from the starter or usual, in words.
    """

    text: str
    said: tuple[str, ...]
    assumed: tuple[str, ...]


def shortened(answers: Answers) -> Shortened:
    """Write a short layout for what was said.

    Parameters
    ----------
    answers : Answers
        What was said; names of tanks are those of the starter.
    """
    layout = read(starter(answers.starter))
    factor, tanks = grown(layout, answers)
    tube = answers.tube or _suction_tube(layout)
    writer = _Writer(layout, answers, factor, tanks, tube)
    said, assumed = tuple(_said(layout, answers)), tuple(_assumed(layout, answers, tube))
    return Shortened(writer.text(said, assumed), said, assumed)


def tanks_of(name: str) -> dict[str, float]:
    """Tanks of a starter and their volumes [m3], in the order they empty."""
    layout = read(starter(name))
    order = layout.feed_order or tuple(layout.tanks)
    return {one: tank_mesh(layout.tanks[one]).volume for one in order}


def _suction_tube(layout: Layout) -> str:
    """Tube of the first line of a starter, which is one before the pump."""
    return next(iter(layout.lines.values())).tube


def _said(layout: Layout, answers: Answers) -> Iterator[str]:
    yield f"{answers.starter}: {STARTERS[answers.starter]}"
    if answers.engine:
        key, value = answers.engine
        yield f"{key} {units.show(value, 'force' if key == 'thrust' else 'flow')}"
    for name in layout.tanks:
        if name in answers.tanks:
            yield f"{name} {_tank_words(answers.tanks[name])}"
    if answers.tube:
        yield answers.tube


def _assumed(layout: Layout, answers: Answers, tube: str) -> Iterator[str]:
    if answers.engine is None:
        thrust = next(iter(layout.engines.values())).thrust or 0.0
        yield f"thrust {units.show(thrust, 'force')}, as in the starter"
    for name, volume in tanks_of(answers.starter).items():
        if name not in answers.tanks:
            yield f"{name} {units.show(volume, 'volume')}, as in the starter"
    if not answers.tube:
        yield f"{tube} before the pump and in the vents, as in the starter"
    yield "nylon 4x2.5 behind the pump"
    yield "places, proportions of tanks, pickups and filters: the starter's, grown with the tanks"
    yield "bores of barbs: 0.9 of the tube's, common practice; lengths of lines: as routed"
    yield "a flight of 6 min 30 s at 6, 100, 60 and 20 % throttle"


def _tank_words(said: float | Vector) -> str:
    if isinstance(said, float):
        return units.show(said, "volume")
    return " x ".join(units.show(one, "length") for one in said)


class _Writer:
    """Writes the file, row by row."""

    def __init__(
        self,
        layout: Layout,
        answers: Answers,
        factor: float,
        tanks: Mapping[str, Grown],
        tube: str,
    ) -> None:
        self.layout, self.answers, self.tube = layout, answers, tube
        self.factor, self.tanks = factor, tanks
        self.bore = catalogue()[tube].inside_diameter
        self.barb = round(0.9 * self.bore, 4)
        self.widened = round(1.15 * self.bore, 4)

    def text(self, said: tuple[str, ...], assumed: tuple[str, ...]) -> str:
        """The whole file."""
        layout = self.layout
        rows = [
            "# Said:    " + "\n#          ".join(said),
            "# Assumed: "
            + "\n#          ".join(assumed)
            + "\n# Measure what is assumed, change it "
            "here, and check again: `plumbing explain keys` lists what else",
            "# can be said. A measured length is said on its line: `length: 375 mm`.",
            "format: 2",
            f"title: New aircraft, {self.answers.starter}",
            f"origin: {layout.origin}",
            "notes: Places and proportions are those of a starter; they were not measured.",
            "engines:  # flow at idle and full throttle is estimated from the thrust",
            *(self.entry(one.name, self.engine(one.name)) for one in layout.engines.values()),
            "tanks:  # inner sizes; ports are where a tube passes the wall",
            *(row for tank in layout.tanks.values() for row in self.tank(tank)),
        ]
        for section, kept in _KEPT.items():
            parts = getattr(layout, section).values()
            rows += [f"{section.replace('_', '-')}:{_WORDS.get(section, '')}"] if parts else []
            rows += [self.entry(part.name, self.part(part, kept)) for part in parts]
        rows += ["joints:  # kinds of line end", *self.joints()]
        rows += ["lines:  # from port to port; corners in between"]
        rows += [self.entry(line.name, self.line(line)) for line in layout.lines.values()]
        rows += ["# Fuel goes in here; this is the order the tanks are meant to empty in."]
        rows += [f"filling: {{port: {layout.filling.port}}}"] if layout.filling.port else []
        rows += [f"feed-order: [{', '.join(layout.feed_order)}]"]
        return EDITOR_LINE + "\n".join(rows) + "\n" + _FLIGHT

    def entry(self, name: str, values: Mapping[str, str], indent: int = 2) -> str:
        """One entry in braces, broken before it is too wide."""
        row, lines = f"{' ' * indent}{name}: {{", []
        whole = ", ".join(f"{key}: {value}" for key, value in values.items()) + "}"
        for piece in _BREAKS.split(whole):
            if len(row) + 1 + len(piece) > _WIDEST:
                lines.append(row)
                row = " " * (indent + 2) + piece
            else:
                row += piece if row.endswith("{") else f" {piece}"
        return "\n".join([*lines, row])

    def engine(self, name: str) -> dict[str, str]:
        """An engine by what was said of it."""
        own = self.layout.engines[name]
        key, value = self.answers.engine or ("thrust", own.thrust or 0.0)
        kind = "force" if key == "thrust" else "flow"
        return {"at": self.place(own.at), key: _exact(value, kind), "bore": "2.5 mm"}

    def tank(self, tank: Tank) -> Iterator[str]:
        """A tank with its shape and its ports."""
        new = self.tanks[tank.name]
        yield f"  {tank.name}:"
        if tank.role == "header":
            yield "    role: header"
        at = f"at: {_point(new.at)}"
        if new.is_box or not isinstance(tank.shape, Cylinder):
            yield f"    shape: {{box: {{{at}, size: {_point(new.size)}}}}}"
        else:
            axis = "xyz".index(tank.shape.axis)
            length, across = new.size[axis], new.size[axis - 1]
            yield (
                f"    shape: {{cylinder: {{{at}, length: {_exact(length, 'length')}, "
                f"diameter: {_exact(across, 'length')}, axis: {tank.shape.axis}}}}}"
            )
        yield "    ports:"
        for port in tank.ports.values():
            yield self.entry(port.name, self.port(port, new), 6)

    def port(self, port: Port, new: Grown) -> dict[str, str]:
        """A port with its pickup."""
        values = {"at": _point(new.ports[port.name]), "bore": _exact(self.barb, "length")}
        pickup = port.pickup
        if pickup is not None:
            said = [f"kind: {pickup.kind}"]
            if pickup.reach is not None:
                said.append(f"reach: {_exact(round(pickup.reach * new.reach, 3), 'length')}")
            if pickup.swings is not None:
                said.append(f"swings: {'yes' if pickup.swings else 'no'}")
            if pickup.pore is not None:
                said.append(f"pore: {_exact(pickup.pore, 'length')}")
            values["pickup"] = f"{{{', '.join(said)}}}"
        return values

    def part(self, part: Named, kept: tuple[str, ...]) -> dict[str, str]:
        """A part by its place, its bore and a few words."""
        known = fields_of(type(part))
        bore = getattr(part, "bore", None)
        values = {"at": self.place(getattr(part, "at"))}  # noqa: B009
        if bore is not None:
            wide = self.bore if isinstance(part, Valve) else self.barb
            own = bore if bore < _SUCTION_BORE else wide
            values["bore"] = _exact(own, "length")
        for key in kept:
            value = getattr(part, known[key].name)
            if value is not None:
                values[key] = value if isinstance(value, str) else _of(known[key], value)
        return values

    def joints(self) -> Iterator[str]:
        """Barbs for the tube, and those of the pressure side."""
        for name, bore, outside in (
            ("barb", self.barb, self.widened),
            ("pressure barb", 2.1e-3, 2.9e-3),
        ):
            yield self.entry(
                name,
                {
                    "kind": "barb",
                    "bore": _exact(bore, "length"),
                    "outside-diameter": _exact(outside, "length"),
                },
            )

    def line(self, line: Line) -> dict[str, str]:
        """A line by its ends, its tube and its corners."""
        first = _suction_tube(self.layout)
        before_pump = line.tube == first
        values = {
            "from": line.from_,
            "to": line.to,
            "tube": self.tube if before_pump else line.tube,
        }
        values["joint"] = "barb" if before_pump else "pressure barb"
        if line.route:
            values["route"] = f"[{', '.join(_point(one) for one in self.corners(line))}]"
            if line.bend_radius is not None:
                radius = math.floor(1e3 * line.bend_radius * self.factor) / 1e3  # there is room
                values["bend-radius"] = _exact(radius, "length")
        return values

    def corners(self, line: Line) -> tuple[Vector, ...]:
        """Corners of a line where they are now."""
        (start, new_start), (end, new_end) = (self.moved(one) for one in (line.from_, line.to))
        return corners(line.route, self.factor, (start, end), (new_start, new_end))

    def moved(self, reference: str) -> tuple[Vector, Vector]:
        """Where a port is in the starter, and where it is now."""
        name, port = split_port(reference)
        old = port_position(self.layout.part(name), port)
        if name in self.tanks:
            return old, self.tanks[name].ports[port]
        return old, rounded(self.factor * np.asarray(old))

    def place(self, point: Vector) -> str:
        """A point of the starter where it is now."""
        return _point(rounded(self.factor * np.asarray(point)))


def _of(field: Field, value: float) -> str:
    """A number as its field is written."""
    assert isinstance(field.form, Number)
    return _exact(value, field.form.quantity.kind)


def _exact(value: float, kind: str) -> str:
    """A number in the unit builders use, with all its digits."""
    unit = "um" if kind == "length" and abs(value) < 1e-3 else units.KINDS[kind].shown
    return f"{units.in_unit(value, kind, unit):.6g} {unit}"


def _point(point: Vector) -> str:
    values = (units.in_unit(one, "length", "mm") for one in point)
    return f"[{', '.join(f'{one:.6g} mm' for one in values)}]"
