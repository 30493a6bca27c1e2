"""Random layouts as the text of a file: any topology, shape, flight, and data missing.

Most of them are bad designs, and some cannot be flown at all. The tool has to say so.
"""

import random
from itertools import pairwise

from .vessels import tank_of
from .writing import mm, written

TUBES = ["polyurethane 3x2", "polyurethane 4x2.5", "polyurethane 5x3", "polyurethane 6x4",
         "nylon 6x4", "silicone 7x4", "PTFE 4x2"]  # fmt: skip
HARD = ["nylon 4x2.5", "PTFE 4x2"]


def layout_text(seed):
    """Text of the layout of that seed (anything that can be written)."""
    return written(Maker(random.Random(str(seed))).made())


class Maker:
    """Puts one layout together."""

    def __init__(self, dice):
        self.dice = dice
        self.place = {}
        self.tanks, self.tees, self.valves, self.lines = {}, {}, {}, {}
        self.filters, self.outlets, self.pumps, self.engines = {}, {}, {}, {}
        self.fill_ports, self.drains, self.joints = {}, {}, {"barb": self._joint()}

    def chance(self, share):
        """Whether something that happens so often happens."""
        return self.dice.random() < share

    def made(self):
        """Give the whole layout as plain dicts."""
        self._build()
        layout = {"format": "1", "title": "Random", "origin": "nose", **self._given()}
        sections = ("engines", "tanks", "tees", "filters", "pumps", "valves", "outlets", "joints")
        layout |= {name: getattr(self, name) for name in sections}
        layout |= {"fill-ports": self.fill_ports, "drains": self.drains, "lines": self.lines}
        flights = self._flights()
        if flights:
            layout["flights"] = flights
        return layout

    def _build(self):
        dice = self.dice
        count = dice.choices(range(1, 13), [8, 8, 6, 4, 3, 2, 1, 1, 0.5, 0.5, 0.5, 0.5])[0]
        for number in range(count):
            name = f"tank {number}"
            self.tanks[name], self.place[name] = tank_of(dice, number)
        ends = self._joined([f"tank {number}" for number in range(count)])
        twin = count > 1 and self.chance(0.15)
        groups = [ends[::2], ends[1::2]] if twin and len(ends) > 1 else [ends]
        for side, group in enumerate(groups):
            self._engine_side(side, group)
        self._vents()
        self._extras()

    def _joined(self, names):
        """Chain some tanks one behind the other; the rest give on their own. Ends that give."""
        dice, ends = self.dice, []
        while names:
            length = min(len(names), dice.choices([1, 2, 3, 12], [5, 3, 1, 0.5])[0])
            chain, names = names[:length], names[length:]
            for behind, ahead in pairwise(chain):
                self._line(f"{behind}.feed", f"{ahead}.in")
                if self.chance(0.85):
                    self.tanks[ahead]["ports"].pop("vent", None)
            ends.append(f"{chain[-1]}.feed")
        return ends

    def _engine_side(self, side, ends):
        """From the ends that give, through tees, header, valve and filter, to pump and engine."""
        dice = self.dice
        while len(ends) > 1:
            first, second, *rest = ends
            ends = [*rest, self._tee(first, second)]
        end = ends[0]
        if self.chance(0.6):
            name = f"header {side}"
            self.tanks[name], self.place[name] = tank_of(dice, 0, "header")
            self._line(end, f"{name}.in")
            end = f"{name}.feed"
        for kind in ("valve", "filter"):
            if self.chance(0.4):
                end = self._through(kind, f"{kind} {side}", end)
        if self.chance(0.05):
            end = self._through("check", f"check {side}", end)
        engine = f"engine {side}"
        at = (1200, 80 * side, 0)
        self.engines[engine] = {"at": mm(*at)} | self._thirst()
        if self.chance(0.93):
            pump = f"pump {side}"
            self.pumps[pump] = {"at": mm(1100, 80 * side, dice.uniform(-50, 50)), "bore": mm(3)}
            self.place[pump], self.place[engine] = (1100, 0, 0), at
            self._line(end, f"{pump}.in")
            self._line(f"{pump}.out", f"{engine}.feed", HARD)
        else:
            self._line(end, f"{engine}.feed")

    def _thirst(self):
        full = self.dice.choice([100, 200, 400, 800])
        chosen = self.dice.random()
        if chosen < 0.05:
            return {}
        if chosen < 0.3:
            return {"thrust": f"{0.3 * full:.3g} N"}
        return {"full-flow": f"{full} ml/min", "idle-flow": f"{0.15 * full:.3g} ml/min"}

    def _tee(self, first, second):
        name = f"tee {len(self.tees)}"
        spot = (self.dice.uniform(600, 850), self.dice.uniform(-90, 90), self.dice.uniform(-60, 60))
        self.tees[name] = {"at": mm(*spot), "bore": mm(self.dice.choice([2.1, 3, 4]))}
        ports = ["run-a", "run-b", "branch"]
        self.dice.shuffle(ports)
        self._line(first, f"{name}.{ports[0]}")
        self._line(second, f"{name}.{ports[1]}")
        return f"{name}.{ports[2]}"

    def _through(self, kind, name, end):
        dice = self.dice
        entry = {"at": mm(1000 + len(self.lines), dice.uniform(-40, 40), 0)}
        entry["bore"] = mm(dice.choice([2.5, 3, 4]))
        if kind == "filter":
            if self.chance(0.7):
                entry |= {"clean-drop": "0.4 kPa"}
                entry |= {"dirty-drop": "2 kPa"} if self.chance(0.6) else {}
            self.filters[name] = entry
        else:
            entry["kind"] = "check" if kind == "check" else dice.choice(["shut-off", "electric"])
            if kind == "check":
                entry |= {"cracking-pressure": "0.5 kPa"} if self.chance(0.7) else {}
            else:
                entry |= {"flight": "closed"} if self.chance(0.07) else {}
                entry |= {"filling": "open"} if self.chance(0.2) else {}
            self.valves[name] = entry
        inlet, outlet = ("in", "out") if self.chance(0.9) else ("out", "in")
        self._line(end, f"{name}.{inlet}")
        return f"{name}.{outlet}"

    def _vents(self):
        open_ports = [f"{n}.vent" for n, tank in self.tanks.items() if "vent" in tank["ports"]]
        for number, end in enumerate(open_ports):
            chosen = self.dice.random()
            if chosen < 0.06:
                self._port(end)["capped"] = "yes"
                continue
            if chosen < 0.1:
                continue
            if chosen < 0.3 and number + 1 < len(open_ports):
                end = self._tee(end, open_ports.pop(number + 1))
            if self.chance(0.06):
                end = self._through("check", f"vent check {number}", end)
            self._outlet(f"vent {number}", end)

    def _outlet(self, name, end):
        spot = (self.dice.uniform(100, 800), -130, self.dice.uniform(-120, 120))
        self.outlets[name] = {"at": mm(*spot), "bore": mm(self.dice.choice([1, 3, 4]))}
        if self.chance(0.3):
            self.outlets[name]["pressure-coefficient"] = f"{self.dice.uniform(-0.5, 0.8):.2g}"
        if self.chance(0.03):
            self.outlets[name]["plug"] = {"fitted-in-flight": "yes"}
        self._line(end, f"{name}.tube")

    def _extras(self):
        """Fill port, drain, rings between tanks, lines that are missing."""
        dice = self.dice
        names = [name for name in self.tanks if name.startswith("tank")]
        if self.chance(0.6):
            self.fill_ports["fill"] = {"at": mm(500, 100, -40), "bore": mm(3)}
            self._line("fill.tube", self._new_port(dice.choice(names), floor=True))
        if self.chance(0.2):
            self.drains["drain"] = {"at": mm(300, 0, -150), "bore": mm(3)}
            self._line(self._new_port(dice.choice(names), floor=True), "drain.tube")
        while len(names) > 1 and self.chance(0.25):
            first, second = dice.sample(names, 2)
            low = self.chance(0.6)
            self._line(self._new_port(first, low), self._new_port(second, low))
        if self.chance(0.07):
            self._outlet("second vent", self._new_port(dice.choice(names), floor=False))
        if self.chance(0.05):
            self.lines.pop(dice.choice(list(self.lines)))

    def _new_port(self, name, floor):
        ports = self.tanks[name]["ports"]
        port = f"more {len(ports)}"
        x, y, z = (float(text.split()[0]) for text in ports["feed"]["at"])
        centre = self.place[name][2]
        mirrored = 2 * centre - z
        ports[port] = {"at": mm(x, y, min(z, mirrored) if floor else max(z, mirrored))}
        return f"{name}.{port}"

    def _port(self, end):
        name, _, port = end.partition(".")
        return self.tanks[name]["ports"][port]

    def _joint(self):
        joint = {"kind": self.dice.choice(["barb", "push-in", "bead"])}
        if self.chance(0.8):
            joint["bore"] = mm(self.dice.choice([1.6, 2.1, 3, 3.6]))
        return joint

    def _line(self, start, end, tubes=TUBES):
        if self.chance(0.15):
            start, end = end, start
        line = {"from": start, "to": end, "tube": self.dice.choice(tubes)}
        if self.chance(0.7):
            line["cut-length"] = mm(self.dice.choice([5, 80, 200, 600, 1500]))
        if self.chance(0.6):
            line["joint"] = "barb"
        if self.chance(0.2):
            point = (self.dice.uniform(100, 1000), self.dice.uniform(-90, 90), 100)
            line["route"] = [mm(*point)]
        if self.chance(0.1):
            kind = self.dice.choice(["elbow-90", "elbow-45", "reducer", "restrictor"])
            line["fittings"] = [{"kind": kind, "bore": mm(self.dice.choice([0.8, 2, 3]))}]
        self.lines[f"line {len(self.lines)}"] = line

    def _given(self):
        dice, given = self.dice, {}
        if self.chance(0.5):
            aircraft = {"flown-as": dice.choice(["scale", "sport", "aerobatic"])}
            if self.chance(0.7):
                aircraft |= {"dry-mass": "9 kg", "dry-cg": mm(450, 0, 0)}
                aircraft["cg-limits"] = mm(430, 470)
            given["aircraft"] = aircraft
        if self.chance(0.5):
            coldest = dice.choice([-35, -20, -5, 5])
            warmth = {"coldest": f"{coldest} degC", "usual": "15 degC", "hottest": "45 degC"}
            kind = dice.choice(["kerosene", "kerosene", "diesel"])
            given["fuel"] = {"kind": kind, "oil": f"{dice.choice([0, 3, 5])} %"}
            given["fuel"]["temperature"] = warmth
        if self.chance(0.2):
            given["tolerances"] = {"bore": mm(dice.choice([0.02, 0.2, 1])), "flow": "20 %"}
        return given

    def _flights(self):
        if self.chance(0.15):
            return {}
        return {"one": {"phases": [self._phase() for _ in range(self.dice.randint(1, 3))]}}

    def _phase(self):
        dice = self.dice
        phase = {"duration": f"{dice.choice([1, 60, 200, 600])} s"}
        phase["throttle"] = f"{dice.choice([0, 20, 60, 100])} %"
        chosen = dice.random()
        if chosen < 0.3:
            phase["pitch"] = f"{dice.choice([-90, -30, 10, 45, 90])} deg"
            phase["roll"] = f"{dice.choice([-90, 0, 30, 180])} deg"
        elif chosen < 0.5:
            felt = {"forward": f"{dice.uniform(-1, 1):.2g} g", "up": f"{dice.uniform(-3, 8):.2g} g"}
            phase["felt"] = felt
        if self.chance(0.3):
            phase["airspeed"] = "50 m/s"
        if self.chance(0.2):
            phase["on-ground"] = "yes"
        return phase
