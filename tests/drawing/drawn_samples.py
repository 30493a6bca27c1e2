"""Layouts made by hand for the drawing tests, with the role each line is meant to have."""

from dataclasses import dataclass, field, replace
from itertools import pairwise

from plumbing.findings import Cause, Finding, Severity
from plumbing.model.engine import Engine
from plumbing.model.layout import Layout
from plumbing.model.line import Line, Tube
from plumbing.model.parts import Connector, Drain, FillPort, Filter, Outlet, Pump, Tee, Valve
from plumbing.model.tank import Box, Pickup, Port, Tank
from plumbing.place import Place

TUBE = Tube(name="6x4", outside_diameter=6e-3, inside_diameter=4e-3, material="polyurethane")


@dataclass
class Bench:
    """Builds a layout line by line; lines are added in their direction of flow."""

    title: str = "Bench layout"
    sections: dict[str, dict[str, object]] = field(default_factory=dict)
    lines: dict[str, Line] = field(default_factory=dict)
    roles: dict[str, str] = field(default_factory=dict)
    feed_order: tuple[str, ...] = ()

    def add(self, section: str, name: str, part: object) -> None:
        """Put a part into a section."""
        self.sections.setdefault(section, {})[name] = part

    def tank(self, name: str, role: str = "main", pickup: str = "clunk", z: float = 0.1) -> None:
        """Add a box tank with the usual ports."""
        big = 0.2 if role == "main" else 0.06
        ports = {
            "vent": Port(name="vent", at=(0.1, 0.0, z + 0.05)),
            "in": Port(name="in", at=(0.0, 0.0, z + 0.04)),
            "fill": Port(name="fill", at=(0.0, 0.0, z - 0.04), capped=True),
            "out": Port(name="out", at=(0.2, 0.0, z), pickup=Pickup(kind=pickup)),
        }
        if role == "main":
            ports["bleed"] = Port(name="bleed", at=(0.15, 0.0, z + 0.05), capped=True)
        shape = Box(at=(0.1, 0.0, z), size=(big, 0.08, 0.1))
        self.add("tanks", name, Tank(name=name, role=role, shape=shape, ports=ports))

    def small(self, kind: str, name: str, z: float = 0.08, **more: object) -> None:
        """Add a small part."""
        sections = {
            "tee": ("tees", Tee),
            "filter": ("filters", Filter),
            "pump": ("pumps", Pump),
            "connector": ("connectors", Connector),
            "outlet": ("outlets", Outlet),
            "fill": ("fill_ports", FillPort),
            "drain": ("drains", Drain),
        }
        at = (0.5, 0.0, z)
        if kind in {"shut-off", "check", "electric"}:
            self.add("valves", name, Valve(name=name, at=at, bore=4e-3, kind=kind, **more))
            return
        section, maker = sections[kind]
        self.add(section, name, maker(name=name, at=at, bore=4e-3, **more))

    def engine(self, name: str = "engine") -> None:
        """Add an engine."""
        self.add("engines", name, Engine(name=name, at=(1.2, 0.0, 0.09), thrust=160.0))

    def run(self, role: str, *ports: str, length: float = 0.42) -> None:
        """Join ports one after the other: `a.out`, `b.in b.out`, `c.in`."""
        for start, end in pairwise(ports):
            leave, arrive = start.split()[-1], end.split()[0]
            name = f"line-{len(self.lines) + 1}"
            self.lines[name] = Line(
                name=name, from_=leave, to=arrive, tube="6x4", cut_length=length
            )
            self.roles[name] = role

    def layout(self) -> Layout:
        """The finished layout; ports that no line joins are capped."""
        joined = {end for line in self.lines.values() for end in (line.from_, line.to)}
        for name, tank in self.sections.get("tanks", {}).items():
            assert isinstance(tank, Tank)
            ports = {
                key: replace(port, capped=f"{name}.{key}" not in joined)
                for key, port in tank.ports.items()
            }
            self.sections["tanks"][name] = replace(tank, ports=ports)
        return Layout(
            format=1,
            title=self.title,
            origin="nose",
            lines=self.lines,
            tubes={"6x4": TUBE},
            feed_order=self.feed_order,
            place=Place("bench.yaml", 1),
            **{"engines": {}, "tanks": {}, **self.sections},
        )


def supply(bench: Bench, tag: str = "", source: str = "header.out") -> None:
    """Add tee, valve, pump, filter, valve, engine behind a header, and the fill side."""
    bench.small("tee", f"fill-tee{tag}")
    bench.small("shut-off", f"shut-off{tag}")
    bench.small("pump", f"pump{tag}", z=0.05)
    bench.small("filter", f"main-filter{tag}", pore=25e-6)
    bench.small("electric", f"fuel-valve{tag}")
    bench.engine(f"engine{tag}")
    bench.run("suction", source, f"fill-tee{tag}.run-a")
    bench.run(
        "suction",
        f"fill-tee{tag}.run-b",
        f"shut-off{tag}.in shut-off{tag}.out",
        f"pump{tag}.in",
    )
    bench.run(
        "pressure",
        f"pump{tag}.out",
        f"main-filter{tag}.in main-filter{tag}.out",
        f"fuel-valve{tag}.in fuel-valve{tag}.out",
        f"engine{tag}.feed",
    )
    bench.small("fill", f"fill-port{tag}", cap=True)
    bench.small("shut-off", f"fill-valve{tag}", flight="closed", filling="open")
    bench.run(
        "fill",
        f"fill-port{tag}.tube",
        f"fill-valve{tag}.in fill-valve{tag}.out",
        f"fill-tee{tag}.branch",
    )


def vent(bench: Bench, tank: str, outlet: str) -> None:
    """Add an outlet and the line from it to a tank's vent."""
    bench.small("outlet", outlet)
    bench.run("vent", f"{outlet}.tube", f"{tank}.vent")


def single() -> Bench:
    """One main and a header."""
    bench = Bench("Single main with header", feed_order=("main", "header"))
    bench.tank("main")
    bench.tank("header", "header", "fine-pore")
    vent(bench, "main", "belly-vent")
    bench.run("suction", "main.out", "header.in")
    supply(bench)
    return bench


def chain(count: int = 3) -> Bench:
    """A chain of mains into a header."""
    names = [f"main-{place}" for place in range(count, 0, -1)]
    bench = Bench("Chained saddle tanks", feed_order=(*names, "header"))
    for name in names:
        bench.tank(name)
    bench.tank("header", "header", "fixed")
    vent(bench, names[0], "belly-vent")
    for far, near in zip(names, [*names[1:], "header"], strict=False):
        bench.run("suction", f"{far}.out", f"{near}.in")
    supply(bench)
    return bench


def teed() -> Bench:
    """Two saddle tanks teed into a header, vents joined."""
    bench = Bench("Teed saddle pair", feed_order=("saddle-left", "saddle-right", "header"))
    bench.tank("saddle-left")
    bench.tank("saddle-right")
    bench.tank("header", "header", "fixed")
    bench.small("tee", "saddle-tee")
    bench.small("tee", "vent-tee")
    bench.small("outlet", "belly-vent")
    bench.run("vent", "belly-vent.tube", "vent-tee.branch")
    bench.run("vent", "vent-tee.run-a", "saddle-left.vent")
    bench.run("vent", "vent-tee.run-b", "saddle-right.vent")
    bench.run("suction", "saddle-left.out", "saddle-tee.run-a", length=0.3)
    bench.run("suction", "saddle-right.out", "saddle-tee.run-b", length=0.9)
    bench.run("suction", "saddle-tee.branch", "header.in")
    supply(bench)
    return bench


def wings() -> Bench:
    """Wing tanks through connectors and check valves into a main, with a drain."""
    bench = Bench("Wing tanks into a main", feed_order=("wing-left", "wing-right", "main"))
    for side in ("left", "right"):
        bench.tank(f"wing-{side}", z=0.2)
        vent(bench, f"wing-{side}", f"tip-vent-{side}")
        bench.small("connector", f"root-{side}", self_closing=True)
        bench.small("check", f"check-{side}")
    bench.tank("main")
    bench.tank("header", "header", "fine-pore")
    bench.small("tee", "wing-tee")
    for side, port in (("left", "run-a"), ("right", "run-b")):
        bench.run(
            "suction",
            f"wing-{side}.out",
            f"root-{side}.in root-{side}.out",
            f"check-{side}.in check-{side}.out",
            f"wing-tee.{port}",
        )
    bench.run("suction", "wing-tee.branch", "main.in")
    bench.run("suction", "main.out", "header.in")
    bench.small("drain", "main-drain")
    bench.run("drain", "main.fill", "main-drain.tube")
    supply(bench)
    return bench


def twin() -> Bench:
    """Two engines with two half-systems."""
    bench = Bench("Twin with two half-systems")
    for side in ("left", "right"):
        bench.tank(f"main-{side}")
        bench.tank(f"header-{side}", "header")
        vent(bench, f"main-{side}", f"vent-{side}")
        bench.run("suction", f"main-{side}.out", f"header-{side}.in")
        supply(bench, f"-{side}", f"header-{side}.out")
    return bench


def parallel(count: int) -> Bench:
    """Many tanks teed one after the other; about three parts to a tank."""
    bench = Bench(f"Gallery of {count} tanks")
    before = ""
    for place in range(1, count + 1):
        bench.tank(f"tank-{place}")
        vent(bench, f"tank-{place}", f"vent-{place}")
        if not before:
            before = f"tank-{place}.out"
            continue
        bench.small("tee", f"tee-{place}")
        bench.run("suction", before, f"tee-{place}.run-a")
        bench.run("suction", f"tank-{place}.out", f"tee-{place}.branch")
        before = f"tee-{place}.run-b"
    bench.tank("header", "header")
    bench.run("suction", before, "header.in")
    supply(bench)
    return bench


def causes(findings: list[Finding]) -> list[Cause]:
    """Each finding a cause of its own, the worst first."""
    ranked = sorted(findings, key=lambda one: one.severity.rank)
    return [Cause(number, (one,)) for number, one in enumerate(ranked, start=1)]


def some_causes(bench: Bench, count: int) -> list[Cause]:
    """Causes spread over the parts and lines."""
    names = [name for section in bench.sections.values() for name in section] + list(bench.lines)
    severities = list(Severity)
    found = [
        Finding(
            check="air-before-empty",
            severity=severities[place % 3],
            part=names[place * 3 % len(names)],
            what="Air reaches the header with a fifth of the fuel of the other side still in its "
            "tank, because the air leg offers the tee almost no resistance.",
        )
        for place in range(count)
    ]
    return causes(found)
