"""The single faults a layout can have, and what each changes in the network."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.humps import extrema
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.model.layout import Layout
from plumbing.network import Role, Survey
from plumbing.network.vent_ways import vent_ways
from plumbing.studies.fault_result import Fault

WEAK = 0.75  # of its flow, what a weak pump gives; common practice
_STUCK = (("level", "where it hangs in level flight"), ("forward", "forward"))
SOFT = 75.0  # Shore A up to which a tube folds when it is squeezed or sucked; common practice


@frozen
class Effect:
    """A fault and what it changes.

    Attributes
    ----------
    fault : Fault
        The fault.
    closed, opened : tuple of (int, int)
        Branch ends closed, and check valves' ends opened.
    pinched : str
        Line whose bore is pinched.
    dirty : tuple of int
        Filters due for change.
    start : mapping of int to float
        Share of their usual fuel that tanks begin with.
    flow : mapping of int to float
        Factor on the flow of demands.
    pickup : (str, str, str)
        Tank, port and `off`, `level` or `forward`; empty for none.
    leak : str
        Port at which a joint leaks; empty for none.
    slug : mapping of str to float
        Depth of the fuel that stands in vent lines [m].
    swapped : (int, int)
        Elements that change places: a tee's branch and one leg of its run; (-1, -1) for none.
    """

    fault: Fault
    closed: tuple[tuple[int, int], ...] = ()
    opened: tuple[tuple[int, int], ...] = ()
    pinched: str = ""
    dirty: tuple[int, ...] = ()
    start: Mapping[int, float] = field(default_factory=dict)
    flow: Mapping[int, float] = field(default_factory=dict)
    pickup: tuple[str, str, str] = ("", "", "")
    leak: str = ""
    slug: Mapping[str, float] = field(default_factory=dict)
    swapped: tuple[int, int] = (-1, -1)


def effects(layout: Layout, survey: Survey, plumbed: Plumbed) -> tuple[Effect, ...]:
    """Every single fault of a layout.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    plumbed : Plumbed
        Its circuit, fill ports kept.
    """
    return (
        *_vents(layout, survey, plumbed),
        *_filters(layout, plumbed),
        *_lines(layout, survey, plumbed),
        *_pickups(layout, plumbed),
        *_bags(survey, plumbed),
        *_leaks(survey, plumbed),
        *_valves(layout, plumbed),
        *_tees(layout, plumbed),
        *_starts(layout),
        *_pumps(layout, survey, plumbed),
    )


def _vents(layout: Layout, survey: Survey, plumbed: Plumbed) -> Iterator[Effect]:
    circuit = plumbed.circuit
    for name in plumbed.outlets:
        part = survey.network.part_of(name)
        if part not in layout.outlets:
            continue
        node = circuit.nodes.index(name)
        here = np.flatnonzero((circuit.start == node) | (circuit.end == node))
        what = f"{called('vent', part)} is blocked, or its plug is left in"
        yield Effect(
            Fault("vent blocked", part, what, "blow through it before every flight"),
            closed=tuple((int(branch), end) for branch in here for end in (0, 1)),
        )
    for way in vent_ways(survey.network):
        sag = float(extrema(way.points, (0.0, 0.0, 1.0)).deepest_sag[0])
        breathes = survey.vented.get(way.tank.name)
        if sag > 0.0 and breathes and breathes.openings == (way.outlet.name,):
            what = f"Fuel stands in the low point of the vent of {way.tank.name}"
            yield Effect(
                Fault("vent slugged with fuel", way.lines[0], what, "blow through it"),
                slug={way.lines[0]: sag},
            )


def _filters(layout: Layout, plumbed: Plumbed) -> Iterator[Effect]:
    places: dict[str, list[int]] = {}
    tags = [plumbed.tags[element] for element in plumbed.circuit.filters.element]
    for number, tag in enumerate(tags):
        places.setdefault(tag.part, []).append(number)
    for part, numbers in places.items():
        if (plumbed.dirty[numbers] > 1.0).any():
            kind = "filter" if part in layout.filters else "pickup"
            what = f"{called(kind, part)} is due for change"
            noticed = "pump voltage creeps up over weeks"
            yield Effect(Fault(f"{kind} dirty", part, what, noticed), dirty=tuple(numbers))


def _lines(layout: Layout, survey: Survey, plumbed: Plumbed) -> Iterator[Effect]:
    for name, use in survey.lines.items():
        if name not in plumbed.line_branch or use.role not in (Role.SUCTION, Role.BALANCE):
            continue
        what = f"{called('line', name)} is pinched to 40 % of its bore"
        yield Effect(Fault("line pinched", name, what, "pump voltage over usual"), pinched=name)
        tube = layout.tube_of(layout.lines[name])
        if tube.hardness is not None and tube.hardness <= SOFT:
            branch = plumbed.line_branch[name][0]
            what = f"Soft line {name} is sucked or squeezed flat"
            yield Effect(
                Fault("soft line flat", name, what, "no fuel at the pump when primed"),
                closed=((branch, 0), (branch, 1)),
            )


def _pickups(layout: Layout, plumbed: Plumbed) -> Iterator[Effect]:
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            pickup = port.pickup
            if pickup is None or port.capped:
                continue
            where = f"{tank.name}.{port.name}"
            swings = pickup.kind == "clunk" or pickup.swings
            noticed = "no sign outside; a drain-down leaves more"
            if swings or pickup.hose is not None:
                what = f"The pickup of {tank.name} has come off inside"
                yield Effect(
                    Fault("pickup off", where, what, noticed), pickup=(tank.name, port.name, "off")
                )
            if pickup.hose is not None:
                what = f"The hose of the clunk in {tank.name} is folded flat"
                ends = ends_at(plumbed, tank.name, port.name)
                yield Effect(Fault("soft tube flat", where, what, noticed), closed=ends)
            if swings and pickup.reach:
                for place, words in _STUCK:
                    what = f"The clunk of {tank.name} is stuck {words}"
                    yield Effect(
                        Fault("clunk stuck", where, what, "turn the tank and listen"),
                        pickup=(tank.name, port.name, place),
                    )


def _bags(survey: Survey, plumbed: Plumbed) -> Iterator[Effect]:
    for name in survey.bags:
        for port in survey.feed_ports(name):
            ends = ends_at(plumbed, name, port)
            if ends:
                what = f"Bag {name} lies flat over its port {port}"
                noticed = "draw it empty on the bench: what comes out"
                yield Effect(
                    Fault("bag shuts its port", f"{name}.{port}", what, noticed), closed=ends
                )


def ends_at(plumbed: Plumbed, tank: str, port: str) -> tuple[tuple[int, int], ...]:
    """Both ends of the branch that begins at a tank's port."""
    number = plumbed.tanks.index(tank)
    return tuple(
        (branch, end)
        for branch, ports in enumerate(plumbed.end_port)
        if any(
            found == port and plumbed.end_tank[branch, side] == number
            for side, found in enumerate(ports)
        )
        for end in (0, 1)
    )


def _leaks(survey: Survey, plumbed: Plumbed) -> Iterator[Effect]:
    """One leak a branch, at its end towards the pump: its other joints do the same, only less."""
    joined: dict[int, list[str]] = {}
    for name, (branch, _) in plumbed.line_branch.items():
        if survey.lines[name].role in (Role.SUCTION, Role.BALANCE):
            joined.setdefault(branch, []).append(name)
    for names in joined.values():
        line = survey.lines[names[-1]]
        either = " or ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
        what = f"A joint of line {either} draws air"
        yield Effect(
            Fault("air leak", names[-1], what, "vacuum test; bubbles in the clear tube"),
            leak=line.downstream,
        )
    for part, node in zip(plumbed.fills, plumbed.fill_node.tolist(), strict=True):
        if node >= 0 and not plumbed.circuit.fixed[node]:
            what = f"The valve of {called('fill port', part, first=False)} leaks"
            yield Effect(
                Fault("fill valve leaks", part, what, "vacuum test; cap as second barrier"),
                leak=plumbed.circuit.nodes[node],
            )


def _valves(layout: Layout, plumbed: Plumbed) -> Iterator[Effect]:
    for name, (branch, _) in plumbed.valve_branch.items():
        if layout.valves[name].kind == "check":
            what = f"{called('check valve', name)} is stuck shut"
            yield Effect(Fault("check valve stuck", name, what), closed=((branch, 0), (branch, 1)))
            what = f"{called('check valve', name)} is stuck open"
            yield Effect(Fault("check valve stuck", name, what), opened=((branch, 0), (branch, 1)))


def _tees(layout: Layout, plumbed: Plumbed) -> Iterator[Effect]:
    """A tee put in the wrong way round: its branch where one leg of its run should be."""
    fittings, owner = plumbed.circuit.fittings, plumbed.circuit.element_branch
    k1 = dict(zip(fittings.element.tolist(), fittings.k1.tolist(), strict=True))
    for name in layout.tees:
        legs = [
            place
            for place in k1
            if plumbed.tags[place].part == name and not plumbed.tags[place].line
        ]
        legs.sort(key=lambda place: -k1[place])
        runs = [place for place in legs[1:] if owner[place] != owner[legs[0]]]
        if runs:
            what = f"{called('tee', name)} is put in the wrong way round"
            yield Effect(
                Fault("tee reversed", name, what, "compare with the drawing"),
                swapped=(legs[0], runs[0]),
            )


def _starts(layout: Layout) -> Iterator[Effect]:
    for number, tank in enumerate(layout.tanks.values()):
        if tank.role == "header":
            what = f"{called('header', tank.name)} is half full of air at the start"
            yield Effect(
                Fault("header with air", tank.name, what, "look at it before every start"),
                start={number: 0.5},
            )
        elif tank.role == "main":
            what = f"{called('tank', tank.name)} is not filled"
            yield Effect(
                Fault("tank not filled", tank.name, what, "log the litres filled"),
                start={number: 0.0},
            )


def _pumps(layout: Layout, survey: Survey, plumbed: Plumbed) -> Iterator[Effect]:
    for number, name in enumerate(plumbed.demands):
        if name in layout.pumps:
            what = f"{called('pump', name)} gives {100 * WEAK:.0f} % of its flow"
            noticed = "engine does not reach full speed"
            yield Effect(Fault("pump weak", name, what, noticed), flow={number: WEAK})
    if len(layout.engines) > 1:
        for engine, feed in survey.feeds.items():
            served = {
                number: 0.0
                for number, name in enumerate(plumbed.demands)
                if name in (*feed.pumps, engine)
            }
            if served and len(served) < len(plumbed.demands):
                yield Effect(
                    Fault("engine out", engine, f"{called('engine', engine)} is out"), flow=served
                )


def called(kind: str, name: str, first: bool = True) -> str:
    """Kind and name of a part without saying a word twice; `first` begins a sentence."""
    known = set(kind.split()) & set(name.lower().split())
    words = f"{'' if known else kind} {name}".strip()
    if first:
        return words[0].upper() + words[1:]
    return words
