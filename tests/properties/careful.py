"""Aircraft that a careful builder would fly: the starters with sensible values of his own."""

import math
import random
from io import StringIO

from ruamel.yaml import YAML

from plumbing import layout as layout_files
from plumbing.checks.case import Case
from plumbing.geometry.route import room
from plumbing.layout.starting import STARTERS
from plumbing.network.lengths import route_points
from plumbing.results import got
from plumbing.units import clock

PLAIN = YAML(typ="safe")
PLAIN.sort_base_mapping_type_on_output = False
BIGGER = {"hole": "9.4 mm", "bend": "52 mm"}
SUCTION = {  # tube of a starter: what fits the same barbs, with the hole and bend that it needs
    "polyurethane 6x4": {"polyurethane 6x4": {}, "fluoroelastomer 6.4x4": BIGGER},
    "polyurethane 8x5": {"polyurethane 8x5": {}, "fluoroelastomer 8x5": {}},
}
WITHOUT_BAFFLE = 250.0  # longest tank that goes without a baffle, common practice [mm]


def careful(seed):
    """Layout of that seed: one of the starters in turn, varied, its timer set from its flight."""
    names = sorted(STARTERS)
    builder = Builder(names[seed % len(names)], random.Random(str(seed)))
    builder.vary()
    return builder.flown()


class Builder:
    """Varies one starter as one who knows what hangs together would."""

    def __init__(self, starter, dice):
        self.starter, self.dice = starter, dice
        self.file = PLAIN.load(layout_files.starter(starter))

    def vary(self):
        """Every part of the aircraft that its builder is free in."""
        self._engines()
        self._tanks()
        self._tubes()
        self._fuel()
        if self.starter == "teed-pair":
            self.file["together"] = [["port", "starboard"]]

    def read(self):
        """The layout as it is now."""
        text = StringIO()
        PLAIN.dump(self.file, text)
        return layout_files.read(text.getvalue(), f"{self.starter}.yaml")

    def flown(self):
        """The layout with as much flying as its usable fuel gives, and the timer set by that."""
        flight = got(Case(self.read()).flight)
        spare = flight.landed_with - flight.reserve
        (phases,) = (one["phases"] for one in self.file["flights"].values())
        figures = next(one for one in phases if "repeat" in one)
        lasts = sum(amount(phase["duration"]) for phase in figures["phases"])
        burns = lasts * flight.mean_flow
        figures["repeat"] = max(1, figures["repeat"] + min(0, math.floor(spare / burns)))
        self.file["papers"]["timer"] = clock(math.floor(flight.timer / 30.0) * 30.0)
        return self.read()

    def _between(self, low, high):
        return self.dice.uniform(low, high)

    def _engines(self):
        """An engine that burns more or less, with a pump and a restrictor chosen for it."""
        flow, lift = self._between(0.85, 1.15), self._between(0.92, 1.04)
        volts = self._between(0.92, 1.08)
        for engine in self.file["engines"].values():
            scale(engine, flow, "thrust", "full-flow", "idle-flow", "flow-ceiling")
        for pump in self.file["pumps"].values():
            scale(pump, flow, "cap-flow")
            scale(pump, lift, "dead-head")
            scale(pump["supply"], volts, "voltage-full", "voltage-idle")
            for point in pump["curve"]:
                scale(point, flow, "flow")
                scale(point, lift, "pressure")

    def _tanks(self):
        """Fuselage tanks longer or shorter about their middle; both of a pair alike."""
        factor = self._between(0.9, 1.1)
        for name, tank in self.file["tanks"].items():
            shape = tank["shape"]
            if "cylinder" not in shape and "wing" not in name:
                self._lengthened(name, tank, min(factor, WITHOUT_BAFFLE / length_of(shape)))

    def _lengthened(self, name, tank, factor):
        (shape,) = tank["shape"].values()
        middle, before = amount(shape["at"][0]), diagonal(shape)
        for section in shape.get("sections", ()):
            scale(section, factor, "station")
        if "size" in shape:
            shape["size"][0] = scaled(shape["size"][0], factor)
        for port, entry in tank["ports"].items():
            old = entry["at"][0]
            new = f"{middle + factor * (amount(old) - middle):.1f} mm"
            entry["at"][0] = new
            if "opens-at" in entry:
                offset = amount(entry["opens-at"][0]) - amount(old)
                entry["opens-at"][0] = f"{amount(new) + offset:.1f} mm"
            self._follow(f"{name}.{port}", old, new)
            if "pickup" in entry:
                grown = diagonal(shape) - before
                for holder, key in (
                    (entry["pickup"], "reach"),
                    (entry["pickup"]["hose"], "length"),
                ):
                    holder[key] = f"{amount(holder[key]) + grown:.0f} mm"

    def _follow(self, port, old, new):
        """The line of a port that moves rises from where the port is now."""
        for line in self.file["lines"].values():
            if port in (line["from"], line["to"]):
                for corner in line.get("route", ()):
                    corner[0] = new if corner[0] == old else corner[0]
                moved = abs(amount(new) - amount(old))
                line["cut-length"] = f"{amount(line['cut-length']) + 1.1 * moved:.0f} mm"

    def _tubes(self):
        """Tubes longer than they need be by up to a fifth; one kind of tube for all suction.

        Lines of one length, as the two branches of a tee have, stay of one length.
        """
        longer = {}
        kinds = {old: self.dice.choice(sorted(new)) for old, new in SUCTION.items()}
        if not self._has_room(kinds):
            kinds = {old: old for old in SUCTION}
        for line in self.file["lines"].values():
            cut = line["cut-length"]
            longer.setdefault(cut, max(1.0, self._between(0.8, 1.2)))
            line["cut-length"] = scaled(cut, longer[cut])
            old = line["tube"]
            if old in kinds and line["colour"] == "clear":
                line["tube"] = kinds[old]
                self._fitted(line, **SUCTION[old][kinds[old]])

    def _has_room(self, kinds):
        """Whether the legs of every line leave room for the bends of the tube chosen for it."""
        layout = self.read()
        for line in layout.lines.values():
            fits = SUCTION.get(line.tube, {}).get(kinds.get(line.tube), {})
            if line.route and "bend" in fits:
                left = room(route_points(layout, line), 1e-3 * amount(fits["bend"]))
                if left.min() < 0.0:
                    return False
        return True

    def _fitted(self, line, hole="", bend=""):
        """Holes that the chosen tube goes through in its grommet, and its bends."""
        for passage in line.get("through", ()) if hole else ():
            former, name = passage.split(".")
            self.file["formers"][former]["passages"][name]["diameter"] = hole
        if bend and "route" in line:
            line["bend-radius"] = bend

    def _fuel(self):
        """Fuel as cold and as hot as it gets where he flies, filled as fast as the label says."""
        celsius = self.file["fuel"]["temperature"]
        for key, low, high in (("coldest", -8, 5), ("usual", 14, 22), ("hottest", 32, 40)):
            celsius[key] = f"{self._between(low, high):.0f} degC"
        filling = self.file["filling"]
        filling["flow"] = scaled(filling["flow"], self._between(0.8, 1.1))
        label = f"fill: kerosene + 5 % oil, max {filling['flow']}"
        self.file["papers"]["placards"] = [label, "vent", "fuel shut-off", "extinguisher"]


def amount(text):
    """Number of a value as the file has it, in the unit it has there."""
    return float(text.split()[0])


def scaled(text, factor):
    """A value of the file times a factor."""
    number, *unit = text.split(maxsplit=1)
    return " ".join([f"{float(number) * factor:.3g}", *unit])


def scale(entry, factor, *keys):
    """Multiply those values of an entry."""
    for key in keys:
        entry[key] = scaled(entry[key], factor)


def length_of(shape):
    """Length of a shape [mm]."""
    (kind,) = shape.values()
    if "size" in kind:
        return amount(kind["size"][0])
    stations = [amount(section["station"]) for section in kind["sections"]]
    return max(stations) - min(stations)


def diagonal(shape):
    """From the middle of the lid to a corner of the floor [mm]."""
    if "size" in shape:
        long, wide, high = (amount(value) for value in shape["size"])
        return math.hypot(0.5 * long, 0.5 * wide, high)
    ends = [amount(section["station"]) for section in shape["sections"]]
    outline = [[amount(value) for value in corner] for corner in shape["sections"][0]["outline"]]
    wide, high = (max(side) - min(side) for side in zip(*outline, strict=True))
    return math.hypot(max(map(abs, ends)), 0.5 * wide, high)
