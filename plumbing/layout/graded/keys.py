"""Keys of short files, and the keys of parts that a file may leave out."""

from collections.abc import Mapping
from types import MappingProxyType

from plumbing.model.base import Written
from plumbing.model.engine import Engine
from plumbing.model.layout import Layout
from plumbing.model.line import Line
from plumbing.model.parts import Connector, Drain, FillPort, Filter, Outlet, Pump, Tee, Valve
from plumbing.model.tank import Box, Capsule, Cylinder, Ellipsoid, Mesh, Port, Prism, Tank

CHAINS = ("feed", "vent", "fill")
SIDES = ("suction", "pressure", "vent", "fill")
HEIGHT, FLOOR = "height", "floor"  # of a part, of a tank's floor, where its place is not said
GROUP = "as"  # key of an entry that takes the values of a group

ALL_AT_ONCE: Mapping[str, str] = MappingProxyType(
    {
        "feed": "the way of the fuel, such as `main > header > screen > pump > engine`, or a list "
        "of such chains; a length or a tube between two names is that of the line there, as in "
        "`main > 300 mm > header`",
        "vent": "the way of the air, such as `main > vent`, or a list",
        "fill": "the way from a fill port, such as `fill > fill tee`, or a list",
        "tube": "tube of all lines that name none, or one for each of `suction`, `pressure`, "
        "`vent` and `fill`",
        "length": "length of all lines that state none and have no route, or one for each side "
        "as for `tube`",
        "defaults": "values for all entries of a section that do not have them, such as "
        "`lines: {joint: barb}`",
        "groups": "values by a name of your own; an entry with `as: NAME` takes them where it has "
        "none of its own",
    }
)

ENTRIES: Mapping[str, str] = MappingProxyType(
    {
        GROUP: "groups whose values it takes where it has none of its own: a name, or a list",
        HEIGHT: "height of a part whose place is not said, over the floor of the first tank",
        FLOOR: "the same of the floor of a tank whose place is not said",
    }
)
_PLACED = frozenset({"at", "bore"})
MAY_MISS: Mapping[type[Written], frozenset[str]] = MappingProxyType(
    {
        Layout: frozenset({"origin", "lines"}),
        Tank: frozenset({"shape", "ports"}),
        Port: frozenset({"at"}),
        Engine: frozenset({"at"}),
        Valve: _PLACED | {"kind"},
        Line: frozenset({"tube"}),
        **dict.fromkeys((Box, Capsule, Cylinder, Ellipsoid, Mesh, Prism), frozenset({"at"})),
        **dict.fromkeys((Tee, Filter, Pump, Outlet, FillPort, Drain, Connector), _PLACED),
    }
)
