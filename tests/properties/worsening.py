"""Making one quantity of a layout worse, step by step to absurdity, and what is then said of it."""

from __future__ import annotations

import fnmatch
import re
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from plumbing.checks.case import Case
from plumbing.checks.kit import Check, Found, Lacking
from plumbing.checks.limits import limits_in_force
from plumbing.checks.registry import checks
from plumbing.checks.run import asked
from plumbing.errors import LayoutError
from plumbing.findings import Severity
from plumbing.layout.gathering import Faults
from plumbing.layout.load import read_grown
from plumbing.layout.tree import Mapping, Node, Scalar, Sequence, grow
from plumbing.results import NotComputed

LAYOUTS = Path(__file__).parents[2] / "layouts"
DEMOS = (
    "single-main",
    "chained-pair",
    "teed-pair",
    "teed-pair-repaired",
    "wings-into-main",
    "twin",
)
STEPWISE = ("single-main", "chained-pair", "twin")  # the others go to the absurd at once
WORST = len(Severity)  # unsafe, not judged, or refused
_ASKED = sorted(
    checks(), key=lambda one: (one.severity.rank, bool(one.rests_on), "in-flight" in one.name)
)
_QUANTITY = re.compile(r"(-?[0-9.]+)( ?.*)")


@dataclass(frozen=True)
class Quantity:
    """A quantity wherever it stands in a file.

    Attributes
    ----------
    path : str
        Keys from the top with dots between, as patterns of a shell; a star is any entry of a list.
    steps : tuple of float
        Factors on it, each worse than the one before.
    ground : bool
        Whether what rests on filling, draining and parking is to be judged as well.
    """

    path: str
    steps: tuple[float, float]
    ground: bool = False


def more(path: str, ground: bool = False, steps: tuple[float, float] = (8.0, 1e4)) -> Quantity:
    """A quantity of which more is worse."""
    return Quantity(path, steps, ground)


def less(path: str, ground: bool = False, steps: tuple[float, float] = (0.3, 0.01)) -> Quantity:
    """A quantity of which less is worse."""
    return Quantity(path, steps, ground)


QUANTITIES = (
    more("filters.*.*-drop", steps=(20.0, 1e3)),
    less("filters.*.bore"),
    less("filters.*.area"),
    less("joints.*.bore", ground=True),
    less("pumps.*.bore"),
    less("pumps.*.outlet-bore"),
    less("pumps.*.curve.*.pressure"),
    less("pumps.*.curve.*.flow"),
    more("pumps.*.cap-flow", steps=(3.0, 30.0)),
    more("pumps.*.leak-flow", ground=True, steps=(8.0, 1e3)),
    less("valves.*.bore"),
    more("engines.*.f*-*", steps=(1.3, 6.0)),
    more("engines.*.feed-pressure-full", steps=(3.0, 200.0)),
    less("tanks.*.wall.proof-pressure", ground=True),
    less("tanks.*.wall.collapse-suction", ground=True),
    less("tanks.*.fill-flow", ground=True),
    less("tanks.*.fill"),
    less("tanks.*.fixing.holds"),
    less("tanks.*.ports.*.bore", ground=True),
    less("tanks.*.ports.*.pickup.hose.bore"),
    more("tanks.*.ports.*.pickup.hose.length", steps=(8.0, 200.0)),
    less("outlets.*.bore", ground=True),
    less("fill-ports.*.bore", ground=True),
    more("filling.flow", ground=True, steps=(2.0, 50.0)),
    more("filling.pump-pressure", ground=True, steps=(8.0, 1e3)),
    more("fuel.oil", steps=(3.0, 9.0)),
    more("fuel.temperature.coldest", steps=(4.0, 8.0)),
    more("fuel.temperature.hottest", steps=(1.5, 2.2)),
    more("aircraft.dry-mass", steps=(2.0, 20.0)),
    more("aircraft.load-factors.positive", steps=(2.0, 6.0)),
    more("aircraft.load-factors.negative", steps=(3.0, 12.0)),
    more("aircraft.load-factors.forward", steps=(5.0, 20.0)),
    more("aircraft.load-factors.braking", steps=(3.0, 30.0)),
    more("aircraft.max-airspeed", ground=True, steps=(2.0, 4.0)),
    more("parking.*.hottest", ground=True, steps=(1.3, 1.9)),
    more("parking.*.duration", ground=True, steps=(3.0, 11.0)),
    more("flights.*.phases.*.duration", steps=(3.0, 20.0)),
    more("reserve.full-throttle", steps=(3.0, 100.0)),
    more("papers.timer", steps=(3.0, 100.0)),
    less("formers.*.passages.*.diameter"),
    more("lines.*.cut-length", ground=True, steps=(10.0, 200.0)),
    less("lines.*.bend-radius"),
)


@cache
def _grown(demo: str) -> Node:
    return grow((LAYOUTS / f"{demo}.yaml").read_text(encoding="utf-8"), demo, Faults())


def worsened(demo: str, path: str, factor: float) -> Node | None:
    """A demo with a quantity multiplied wherever it stands; None if it stands nowhere."""
    before = _grown(demo)
    after = _multiplied(before, path.split("."), factor)
    return None if after is before else after


def _multiplied(node: Node, path: list[str], factor: float) -> Node:
    """The tree below a node with the quantities that a path leads to multiplied."""
    if not path:
        return _times(node, factor)
    key, *rest = path
    if isinstance(node, Sequence):
        items = tuple(_multiplied(one, rest, factor) for one in node.items)
        same = all(one is other for one, other in zip(items, node.items, strict=True))
        return node if same else replace(node, items=items)
    if not isinstance(node, Mapping):
        return node
    named = fnmatch.filter(node.entries, key)
    changed = {name: _multiplied(node.entries[name], rest, factor) for name in named}
    same = all(one is node.entries[name] for name, one in changed.items())
    return node if same else replace(node, entries={**node.entries, **changed})


def _times(node: Node, factor: float) -> Node:
    found = _QUANTITY.fullmatch(node.text) if isinstance(node, Scalar) else None
    if found is None:
        return node
    return replace(node, text=f"{float(found[1]) * factor:.9g}{found[2]}")


def rank(tree: Node, ground: bool) -> int:
    """How bad a layout is said to be: 0 clean, 1 advice, 2 fault, 3 unsafe or not to be judged.

    Checks are asked one by one, those that may find something unsafe first; no more is asked once
    one has.
    """
    try:
        case = Case(read_grown(tree, "worse.yaml", Faults()))
        limits, found = limits_in_force(case.layout), 0
    except LayoutError:
        return WORST
    for check in _ASKED:
        if ground or not check.rests_on:
            said = asked(check, case, limits[check.name])
            found = max(found, *(_badness(check, one) for one in said), 0)
        if found == WORST:
            break
    return found


def _badness(check: Check, said: Found | Lacking | NotComputed) -> int:
    if isinstance(said, Found):
        return WORST - (said.severity or check.severity).rank
    return WORST if isinstance(said, NotComputed) and said.asked else 0


@cache
def as_drawn(demo: str, ground: bool) -> int:
    """How bad a demo is as it stands."""
    return rank(_grown(demo), ground)
