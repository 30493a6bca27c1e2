"""The whole layout: everything the file holds, and the few look-ups everybody needs."""

from collections.abc import Iterator, Mapping
from dataclasses import field
from types import MappingProxyType
from typing import Annotated

from plumbing.findings import Assumption, Guess
from plumbing.frozen import frozen
from plumbing.model.aircraft import Aircraft
from plumbing.model.base import Named, Written
from plumbing.model.engine import Engine
from plumbing.model.fields import Quantity, Refers, Size, Usual, Vector
from plumbing.model.flight import Flight
from plumbing.model.fuel import Fuel
from plumbing.model.ground import (
    Accepted,
    Filling,
    Papers,
    Parking,
    Reserve,
    Safety,
    Simulation,
    Tolerances,
)
from plumbing.model.line import Line, Tube
from plumbing.model.measured import Measured
from plumbing.model.parts import (
    Connector,
    Drain,
    FillPort,
    Filter,
    Joint,
    Outlet,
    Pump,
    Tee,
    Valve,
)
from plumbing.model.photo import Photo
from plumbing.model.structure import Former, Zone
from plumbing.model.tank import Mesh, Port, Tank
from plumbing.stage import Stage

Part = Tank | Tee | Filter | Pump | Valve | Outlet | FillPort | Drain | Connector | Engine

PART_SECTIONS = (
    "tanks",
    "tees",
    "filters",
    "pumps",
    "valves",
    "connectors",
    "outlets",
    "fill_ports",
    "drains",
    "engines",
)

PORT_NAMES: Mapping[type[Named], tuple[str, ...]] = MappingProxyType(
    {
        Tee: ("run-a", "run-b", "branch"),
        Filter: ("in", "out"),
        Pump: ("in", "out"),
        Valve: ("in", "out"),
        Connector: ("in", "out"),
        Outlet: ("tube",),
        FillPort: ("tube",),
        Drain: ("tube",),
        Engine: ("feed",),
    }
)


@frozen(kw_only=True)
class Layout(Written):
    """A fuel system as written in a layout file."""

    format: Annotated[int, Quantity("count", 1, 2), "format version, 2; files of 1 are read too"]
    title: Annotated[str, "name of the aircraft or project"]
    origin: Annotated[str, "where x = y = z = 0 is, in words"]
    notes: Annotated[str, "anything worth saying"] = ""
    stage: Annotated[
        Stage,
        "how far it has come: what is due later is no fault yet",
        Usual("drawing", "nothing is known to be built"),
    ] = "drawing"
    aircraft: Annotated[Aircraft, "the aircraft"] = Aircraft()
    fuel: Annotated[Fuel, "fuel and oil"] = Fuel()
    engines: Annotated[dict[str, Engine], "engines by name"]
    tanks: Annotated[dict[str, Tank], "tanks and header tanks by name"]
    tees: Annotated[dict[str, Tee], "tees by name"] = field(default_factory=dict)
    filters: Annotated[dict[str, Filter], "filters by name"] = field(default_factory=dict)
    pumps: Annotated[dict[str, Pump], "pumps by name"] = field(default_factory=dict)
    valves: Annotated[dict[str, Valve], "valves by name"] = field(default_factory=dict)
    connectors: Annotated[dict[str, Connector], "connectors by name"] = field(default_factory=dict)
    outlets: Annotated[dict[str, Outlet], "vent and overflow outlets by name"] = field(
        default_factory=dict
    )
    fill_ports: Annotated[dict[str, FillPort], "fill ports by name"] = field(default_factory=dict)
    drains: Annotated[dict[str, Drain], "drains by name"] = field(default_factory=dict)
    joints: Annotated[dict[str, Joint], "kinds of line end by name"] = field(default_factory=dict)
    tubes: Annotated[dict[str, Tube], "tubes not in the catalogue, by name"] = field(
        default_factory=dict
    )
    lines: Annotated[dict[str, Line], "lines by name"]
    formers: Annotated[dict[str, Former], "formers, ribs and bulkheads by name"] = field(
        default_factory=dict
    )
    zones: Annotated[dict[str, Zone], "zones to keep clear of, by name"] = field(
        default_factory=dict
    )
    filling: Annotated[Filling, "how it is filled"] = Filling()
    parking: Annotated[dict[str, Parking], "parking and transport attitudes by name"] = field(
        default_factory=dict
    )
    flights: Annotated[dict[str, Flight], "flights by name"] = field(default_factory=dict)
    feed_order: Annotated[
        tuple[Annotated[str, Refers("tanks")], ...], "tanks in the order meant to empty"
    ] = ()
    together: Annotated[
        tuple[tuple[Annotated[str, Refers("tanks")], ...], ...],
        "groups of tanks in the feed order that are meant to empty at the same time",
    ] = ()
    reserve: Annotated[Reserve, "what must be left at touchdown"] = Reserve()
    simulation: Annotated[Simulation, "what a run takes into account"] = Simulation()
    tolerances: Annotated[Tolerances, "how uncertain the values are"] = Tolerances()
    safety: Annotated[Safety, "safety at the field"] = Safety()
    papers: Annotated[Papers, "care and papers"] = Papers()
    limits: Annotated[
        dict[str, str], "limits of checks you set yourself, as `check-name: value`"
    ] = field(default_factory=dict)
    accepted: Annotated[
        dict[str, Accepted], "findings somebody answers for, by a name of your own"
    ] = field(default_factory=dict)
    measured: Annotated[dict[str, Measured], "values measured on the built aircraft"] = field(
        default_factory=dict
    )
    photos: Annotated[dict[str, Photo], "photos for the dossier and the page, by name"] = field(
        default_factory=dict
    )
    catalogue: Mapping[str, Tube] = field(default_factory=dict, compare=False, repr=False)
    assumptions: tuple[Assumption, ...] = ()
    guesses: tuple[Guess, ...] = ()  # numbers that the file does not say
    unsaid: tuple[str, ...] = ()  # key paths of all else that was filled in
    digest: str = field(default="", compare=False)  # SHA-256 of the file's bytes, hexadecimal

    def parts(self) -> Iterator[Part]:
        """All parts that lines join, section by section."""
        for section in PART_SECTIONS:
            yield from getattr(self, section).values()

    def part(self, name: str) -> Part:
        """Part of that name; KeyError if there is none."""
        for section in PART_SECTIONS:
            found: Part | None = getattr(self, section).get(name)
            if found is not None:
                return found
        raise KeyError(name)

    def tube_of(self, line: Line) -> Tube:
        """Tube a line is cut from: the file's own first, then the catalogue's."""
        return self.tubes.get(line.tube) or self.catalogue[line.tube]

    def joint_at(self, line: Line, end: str) -> Joint | None:
        """Joint at the `from` or `to` end of a line, if one is stated."""
        own = line.from_joint if end == "from" else line.to_joint
        name = own or line.joint
        return self.joints[name] if name else None

    @property
    def full_flow(self) -> float:
        """Flow of all engines together at full throttle [m3/s]; those without a figure give 0."""
        return sum(engine.full_flow or 0.0 for engine in self.engines.values())

    def files_named(self) -> tuple[str, ...]:
        """Names of the meshes, logs and photos it is read with, as written."""
        parts = list(self.parts())
        shapes = [getattr(part, "shape", getattr(part, "body", None)) for part in parts]
        shapes += [zone.body for zone in self.zones.values()]
        shapes.append(self.aircraft.airframe)
        logs = (flight.log for flight in self.flights.values())
        return (
            *(shape.file for shape in shapes if isinstance(shape, Mesh)),
            *(log.file for log in logs if log is not None),
            *(photo.file for photo in self.photos.values()),
        )

    def headers(self) -> tuple[Tank, ...]:
        """Header tanks (air traps)."""
        return tuple(tank for tank in self.tanks.values() if tank.role == "header")


def port_names(part: Part) -> tuple[str, ...]:
    """Names of a part's ports, in order."""
    if isinstance(part, Tank):
        return tuple(part.ports)
    return PORT_NAMES[type(part)]


def port_position(part: Part, port: str) -> Vector:
    """Where a line joins a part [m]."""
    if isinstance(part, Tank):
        return part.ports[port].at
    return part.at


def port_bore(part: Part, port: str) -> float | None:
    """Narrowest bore of a part's port [m], or None where it is not stated."""
    if isinstance(part, Tank):
        return part.ports[port].bore
    if isinstance(part, Pump) and port == "out":
        return part.outlet_bore or part.bore
    return part.bore


def split_port(reference: str) -> tuple[str, str]:
    """Split `part.port`; a bare part name gives an empty port."""
    part, _, port = reference.partition(".")
    return part, port


__all__ = [
    "PART_SECTIONS",
    "PORT_NAMES",
    "Layout",
    "Part",
    "Port",
    "Size",
    "port_bore",
    "port_names",
    "port_position",
    "split_port",
]
