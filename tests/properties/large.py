"""Large systems, none of them sensible: what a command must come to an end on.

Each is valid and as small a file as such a system can be; places are in millimetres.
"""

from .writing import mm, written

TUBE = "polyurethane 6x4"
HEAD = {"format": "1", "title": "Large", "origin": "nose"}


class System:
    """A system that grows: tanks, tees and lines, and one engine at the end."""

    def __init__(self):
        self.tanks, self.tees, self.lines, self.outlets = {}, {}, {}, {}

    def tank(self, number, ports, vent=True):
        """A box with a feed port, some more low ports, and a vent of its own."""
        name = f"tank {number}"
        x, y = 150 * (number % 5), 160 * (number // 5)
        holes = {"feed": {"at": mm(x + 50, y, -30)}}
        holes |= {f"p{one}": {"at": mm(x - 40 + 8 * one, y + 50, -28)} for one in range(ports)}
        shape = {"box": {"at": mm(x, y, 0), "size": mm(120, 100, 80)}}
        self.tanks[name] = {"shape": shape, "ports": holes}
        if vent:
            holes["vent"] = {"at": mm(x, y, 40)}
            outlet = f"vent {number}"
            self.outlets[outlet] = {"at": mm(x, y, 60), "bore": mm(4)}
            self.line(f"{name}.vent", f"{outlet}.tube")
        return name

    def line(self, start, end):
        """A tube between two ports."""
        self.lines[f"l{len(self.lines)}"] = {"from": start, "to": end, "tube": TUBE}

    def tee(self, *ends):
        """A tee at the end of two lines; its free end."""
        name = f"tee {len(self.tees)}"
        at = mm(800 + 2 * (len(self.tees) % 20), 10 * (len(self.tees) // 20), -20)
        self.tees[name] = {"at": at, "bore": mm(4)}
        for port, end in zip(("run-a", "branch"), ends, strict=False):
            self.line(end, f"{name}.{port}")
        return f"{name}.run-b"

    def text(self, end):
        """The whole file, with pump and engine at an end, and a fill port at the first tank."""
        self.line(end, "pump.in")
        self.line("pump.out", "engine.feed")
        first = next(iter(self.tanks.values()))
        x, y = (float(one.split()[0]) for one in first["shape"]["box"]["at"][:2])
        first["ports"]["fill"] = {"at": mm(x - 50, y, -30)}
        self.line("fill.tube", f"{next(iter(self.tanks))}.fill")
        thirst = {"at": mm(1200, 0, 0), "full-flow": "400 ml/min", "idle-flow": "60 ml/min"}
        return written(
            HEAD
            | {"engines": {"engine": thirst}, "tanks": self.tanks, "tees": self.tees}
            | {"pumps": {"pump": {"at": mm(1100, 0, -20), "bore": mm(3)}}}
            | {
                "outlets": self.outlets,
                "fill-ports": {"fill": {"at": mm(-90, -80, -40), "bore": mm(4)}},
            }
            | {"lines": self.lines}
        )


def teed(count=20):
    """Tanks that all give into one row of tees."""
    made = System()
    end, *others = [f"{made.tank(one, 0)}.feed" for one in range(count)]
    for other in others:
        end = made.tee(end, other)
    return made.text(end)


def rings(count=7):
    """Every tank joined low to the next two: rings within rings."""
    made = System()
    names = [made.tank(one, 4) for one in range(count)]
    for one in range(count):
        made.line(f"{names[one]}.p0", f"{names[(one + 1) % count]}.p1")
        made.line(f"{names[one]}.p2", f"{names[(one + 2) % count]}.p3")
    end, *others = [f"{name}.feed" for name in names]
    for other in others:
        end = made.tee(end, other)
    return made.text(end)


def crossed(count=16):
    """A grid of tanks, each joined low to its neighbours, of which every fourth gives."""
    made, wide = System(), 4
    names = [made.tank(one, 4, vent=one % 3 == 0) for one in range(count)]
    for one in range(count):
        if one % wide < wide - 1:
            made.line(f"{names[one]}.p0", f"{names[one + 1]}.p1")
        if one + wide < count:
            made.line(f"{names[one]}.p2", f"{names[one + wide]}.p3")
    end, *others = [f"{name}.feed" for name in names[::4]]
    for other in others:
        end = made.tee(end, other)
    return made.text(end)


def ladder(count=240):
    """Two rows of tees with a rung between each pair, between a tank and the pump."""
    made = System()
    first, second = f"{made.tank(0, 0)}.feed", f"{made.tank(1, 0)}.feed"
    for _ in range(count // 2):
        low, high = made.tee(first), made.tee(second)
        made.line(low.replace("run-b", "branch"), high.replace("run-b", "branch"))
        first, second = low, high
    return made.text(made.tee(first, second))


LARGE = {"teed": teed, "rings": rings, "crossed": crossed, "ladder": ladder}
