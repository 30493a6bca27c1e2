"""The order in which the tanks empty, as the vents alone decide it.

A tank gives fuel only as air takes its place. A tank with an open vent gives at once; a sealed
one is refilled from the tank behind it and gives only when that is dry and passes air on. So
each tank's turn is one more than the last of those behind it, and a vented tank's turn is the
first. Behind a vented tank nothing moves: air comes in there more easily than fuel from
farther back, so what stands behind is left to the end, stranded.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise, zip_longest

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.graphs import components
from plumbing.network.units import Plan
from plumbing.network.vents import Vented

_STRANDED = 1_000_000_000
_STARVED = 2_000_000_000
_UNUSED = 3_000_000_000


@frozen
class Group:
    """Tanks that empty together, or in an order nobody can predict.

    Attributes
    ----------
    tanks : tuple of str
        The tanks.
    reason : str
        One line: why they come here.
    stranded : bool
        Their fuel stays: another open vent, or no air, or no way to a pump.
    together : bool
        They sink together: a balance line or fine-pore pickups see to it.
    """

    tanks: tuple[str, ...]
    reason: str
    stranded: bool = False
    together: bool = False


@frozen
class Conflict:
    """Two tanks meant to empty one after the other that will not."""

    first: str
    then: str
    what: str


@frozen
class FeedOrder:
    """The order in which tanks empty.

    Attributes
    ----------
    groups : tuple of Group
        All groups; where systems are independent, those of the same turn follow each other.
    systems : tuple of tuple of Group
        The same for each system of tanks that share a way to the pump.
    conflicts : tuple of Conflict
        Where that differs from the intended feed order; empty if none is stated.
    not_listed : tuple of str
        Tanks the intended feed order leaves out; empty if none is stated.
    """

    groups: tuple[Group, ...]
    systems: tuple[tuple[Group, ...], ...]
    conflicts: tuple[Conflict, ...] = ()
    not_listed: tuple[str, ...] = ()

    @property
    def tanks(self) -> tuple[str, ...]:
        """All tanks in order."""
        return tuple(tank for group in self.groups for tank in group.tanks)

    @property
    def steps(self) -> tuple[tuple[str, ...], ...]:
        """Tanks that run empty at the same time, step by step.

        Independent systems empty side by side. Tanks of which nothing decides the first take
        their steps one after the other.
        """
        found: list[tuple[str, ...]] = []
        for groups in zip_longest(*self.systems):
            here = [group for group in groups if group is not None]
            sure = [group for group in here if group.together or len(group.tanks) == 1]
            found.append(tuple(tank for group in sure for tank in group.tanks))
            found += [(tank,) for group in here if group not in sure for tank in group.tanks]
        return tuple(step for step in found if step)


@frozen
class _Turns:
    """Turn of each unit, and what it waits for or is held by."""

    turn: Mapping[str, int]
    waits_for: Mapping[str, tuple[str, ...]]
    held_by: Mapping[str, str]


def feed_order(
    network: Network, plan: Plan, vented: Mapping[str, Vented], fine_pore: frozenset[str]
) -> FeedOrder:
    """Order implied by the vents, compared with the intended one.

    Parameters
    ----------
    network, plan, vented
        What is known of the layout; a tank vented by no opening is a bag, which folds.
    fine_pore : frozenset of str
        Tanks that give through fine-pore pickups only.
    """
    turns = _turns(plan, vented)
    members: dict[str, list[str]] = {}
    for tank, unit in plan.unit.items():
        members.setdefault(unit, []).append(tank)
    folding = frozenset(name for name, one in vented.items() if not one.openings)
    explain = _Reasons(network, turns, members, fine_pore, folding)
    systems: list[tuple[Group, ...]] = []
    ranked: list[tuple[int, Group]] = []
    tanks = network.layout.tanks
    for units in _systems(plan):
        if not any(tanks[tank].for_engines for unit in units for tank in members[unit]):
            continue
        steps = sorted({turns.turn[unit] for unit in units})
        by_step: dict[int, list[str]] = {step: [] for step in steps}
        for unit in units:
            by_step[turns.turn[unit]].append(unit)
        groups = tuple(explain.group(step, by_step[step]) for step in steps)
        systems.append(groups)
        ranked.extend(zip(steps, groups, strict=True))
    ordered = tuple(group for _, group in sorted(ranked, key=lambda pair: pair[0]))
    intended = network.layout.feed_order
    conflicts = _conflicts(intended, network.layout.together, systems)
    named = intended or tuple(tanks)
    missing = tuple(tank for tank in plan.unit if tanks[tank].for_engines and tank not in named)
    return FeedOrder(ordered, tuple(systems), conflicts, missing)


def _systems(plan: Plan) -> tuple[tuple[str, ...], ...]:
    """Units that share a way to the pump, system by system."""
    units = tuple(dict.fromkeys(plan.unit.values()))
    runs = tuple(f"\0{number}" for number in range(len(plan.gives)))
    pairs = [
        (runs[number], end)
        for number in range(len(runs))
        if plan.carries(number)
        for end in (
            *plan.gives[number],
            *plan.takes[number],
            *(runs[behind] for behind in plan.pumped_from[number]),
        )
    ]
    known = frozenset(units)
    groups = components((*units, *runs), pairs)
    return tuple(
        tanks for group in groups if (tanks := tuple(node for node in group if node in known))
    )


def _turns(plan: Plan, vented: Mapping[str, Vented]) -> _Turns:
    breathes = {plan.unit[tank] for tank in vented}
    held = _held(plan, breathes)
    turn = {unit: 0 for unit in breathes if unit not in held}
    waits: dict[str, tuple[str, ...]] = {}
    run_turn: dict[int, int] = {}
    for _ in range(3):  # a second pass settles pumps that deliver into runs seen before
        for number in plan.order:
            behind = [turn[u] for u in plan.gives[number] if u in turn]
            behind += [run_turn[r] for r in plan.pumped_from[number] if r in run_turn]
            if not behind:
                continue
            run_turn[number] = max(behind)
            for unit in plan.takes[number]:
                if unit in breathes or unit in held or unit in plan.gives[number]:
                    continue
                turn[unit] = max(turn.get(unit, 0), run_turn[number] + 1)
                waits[unit] = plan.gives[number]
    for unit in plan.unit.values():
        if unit not in plan.stage:
            turn[unit] = _UNUSED
        elif unit not in turn:
            turn[unit] = _STRANDED if unit in held else _STARVED
    return _Turns(turn, waits, held)


def _held(plan: Plan, breathes: set[str]) -> dict[str, str]:
    """Units behind an open vent, with the tank whose vent it is."""
    held: dict[str, str] = {}
    for number in reversed(plan.order):
        for unit in plan.takes[number]:
            holder = held.get(unit) or (unit if unit in breathes else None)
            if holder and not plan.pumped_from[number]:
                for giver in plan.gives[number]:
                    if giver not in plan.takes[number] and giver != holder:
                        held.setdefault(giver, holder)
    return held


@frozen
class _Reasons:
    """Says why a group of units comes where it does."""

    network: Network
    turns: _Turns
    members: Mapping[str, list[str]]
    fine_pore: frozenset[str]
    folding: frozenset[str]

    def group(self, step: int, units: list[str]) -> Group:
        tanks = tuple(tank for unit in units for tank in self.members[unit])
        if step >= _STRANDED:
            return Group(tanks, self._stranded(step, units, _listed(tanks)), stranded=True)
        if len(tanks) == 1:
            return Group(tanks, self._alone(step, units[0], tanks[0]))
        names = _listed(tanks)
        if len(units) == 1:
            return Group(
                tanks, f"{names} sink together over a balance line between them", together=True
            )
        if self.fine_pore.issuperset(tanks):
            why = f"{names} empty together as long as their fine-pore pickups hold air back"
            return Group(tanks, why, together=True)
        return Group(tanks, f"{names}: whichever runs dry first lets air in and strands the rest")

    def _stranded(self, step: int, units: list[str], names: str) -> str:
        if step == _UNUSED:
            return f"no way from {names} to a pump"
        if step == _STARVED:
            return f"no air can reach {names}: the fuel stays"
        holders = _listed(tuple(dict.fromkeys(self.turns.held_by[unit] for unit in units)))
        return f"behind the open vent of {holders}, where air enters before this fuel moves"

    def _alone(self, step: int, unit: str, tank: str) -> str:
        header = self.network.layout.tanks[tank].role == "header"
        if step == 0 and tank in self.folding:
            return f"{tank} is a bag, which folds as it gives: it empties first"
        if step == 0:
            if header:
                return f"{tank} is a header with an open vent: air comes to the pump from it first"
            return f"{tank} has the open vent: it empties first"
        behind = tuple(m for u in self.turns.waits_for[unit] for m in self.members[u])
        what = f"{tank} is the header, last before the pump" if header else f"{tank} is sealed"
        until = _listed(behind) or "the tank that is pumped into it"
        return f"{what}: it gives only when {until} {'are' if len(behind) > 1 else 'is'} dry"


def _listed(names: tuple[str, ...]) -> str:
    """Names in a row, a long row cut short."""
    shown = names if len(names) <= 6 else (*names[:5], f"{len(names) - 5} more")
    return " and ".join((", ".join(shown[:-1]), shown[-1])) if len(shown) > 1 else "".join(shown)


def _conflicts(
    intended: tuple[str, ...],
    together: tuple[tuple[str, ...], ...],
    systems: list[tuple[Group, ...]],
) -> tuple[Conflict, ...]:
    place = {
        tank: (system, rank, group)
        for system, groups in enumerate(systems)
        for rank, group in enumerate(groups)
        for tank in group.tanks
    }
    by_system: dict[int, list[str]] = {}
    for tank in intended:
        if tank in place:
            by_system.setdefault(place[tank][0], []).append(tank)
    return tuple(
        conflict
        for tanks in by_system.values()
        for first, then in pairwise(tanks)
        for conflict in _compared(
            first, then, place, any({first, then} <= {*group} for group in together)
        )
    )


def _compared(
    first: str, then: str, place: Mapping[str, tuple[int, int, Group]], together: bool
) -> Iterator[Conflict]:
    (_, one, early), (_, two, late) = place[first], place[then]
    if early.stranded:
        yield Conflict(first, then, f"{first} is not emptied ({early.reason})")
    elif one > two:
        yield Conflict(first, then, f"{then} empties before {first} ({late.reason})")
    elif together and one != two:
        yield Conflict(first, then, f"{first} empties before {then} ({early.reason})")
    elif one == two and first != then and not early.together:
        yield Conflict(first, then, f"not decided ({early.reason})")
