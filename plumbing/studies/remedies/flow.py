"""Remedies by what flows: wider lines, equal branches, fine-pore pickups, slower filling."""

from collections.abc import Iterator
from dataclasses import replace

from plumbing.model.layout import Layout, split_port
from plumbing.model.line import Line, Tube
from plumbing.model.tank import Pickup, Port
from plumbing.network import Role
from plumbing.simulation.computed import Computed
from plumbing.studies.remedies.proposal import Proposal
from plumbing.studies.sizing.fit import mass_per_length, stands_kerosene
from plumbing.studies.sizing.variants import with_tubes
from plumbing.units import in_unit, show

SUCTION = frozenset(
    {
        "inlet-suction-too-high",
        "cold-suction-too-high",
        "loaded-suction-too-high",
        "dirty-suction-too-high",
        "air-released-before-pump",
        "tank-suction-near-collapse",
        "suction-flow-too-fast",
    }
)
TEED = frozenset(
    {
        "teed-pickups-draw-air",
        "feed-order-unpredictable",
        "fuel-stranded",
        "air-reaches-pump-in-flight",
        "air-fills-header-in-flight",
        "engine-stops-in-flight",
        "separate-vents-on-teed-tanks",
    }
)
_PORE, _AREA, _DROP = 20e-6, 8e-4, 300.0  # of a usual fine-pore pickup [m], [m2], [Pa]
_WIDER = 0.4e-3  # step in bore worth the work [m]


def wider_line(case: Computed) -> Iterator[Proposal]:
    """The next bore for all suction lines of the narrowest tube, with barbs made for it."""
    layout, found = case.layout, case.survey
    suction = [layout.lines[use.line] for use in found.of_role(Role.SUCTION)]
    if not suction:
        return
    least = min(layout.tube_of(line).inside_diameter for line in suction)
    narrow = [x for x in suction if layout.tube_of(x).inside_diameter < least + 1e-6]
    now = layout.tube_of(narrow[0])
    wider = next_wider(layout, now)
    if wider is None:
        return
    mass = sum(
        found.lengths[x.name].used * (mass_per_length(wider) - mass_per_length(layout.tube_of(x)))
        for x in narrow
    )
    holes = sum(len(x.through) for x in narrow)
    names = ", ".join(x.name for x in narrow)
    yield Proposal(
        change=f"{wider.name} and barbs made for it on {names}, in place of {now.name}",
        costs=f"{show(mass, 'mass')} of tube, {2 * len(narrow)} joints"
        + (f", {holes} passages to be checked for size" if holes else ""),
        layout=with_tubes(layout, {x.name: wider.name for x in narrow}, new_joints=True),
        aims=SUCTION | {"narrow-bore-on-suction-side"},
    )


def next_wider(layout: Layout, tube: Tube) -> Tube | None:
    """The next bore on the shelf that stands kerosene, of the same material where there is one."""
    wider = [
        x
        for x in layout.catalogue.values()
        if x.inside_diameter > tube.inside_diameter + _WIDER and stands_kerosene(x)
    ]
    same = [x for x in wider if x.material == tube.material]
    usual = [x for x in wider if x.material in ("polyurethane", "nylon")]
    return min(same or usual, key=lambda x: (x.inside_diameter, x.outside_diameter), default=None)


def equal_branches(case: Computed) -> Iterator[Proposal]:
    """All branches to a tee cut to one length, of one tube."""
    layout, found = case.layout, case.survey
    for teed in found.teed:
        branches = [line for line in layout.lines.values() if _ends_at(line, teed.ports)]
        if len(branches) < 2:
            continue
        longest = max(branches, key=lambda line: found.lengths[line.name].used)
        length = found.lengths[longest.name].used
        changed = {
            line.name: replace(line, cut_length=length, tube=longest.tube, joint=longest.joint)
            for line in branches
        }
        more = sum(length - found.lengths[line.name].used for line in branches)
        if more < 1e-3:
            continue
        yield Proposal(
            change=f"equal branches: {', '.join(changed)} all cut to {show(length, 'length')}",
            costs=f"{show(more, 'length')} of tube, and room for its loops",
            layout=replace(layout, lines={**layout.lines, **changed}),
            aims=TEED,
        )


def _ends_at(line: Line, ports: tuple[str, ...]) -> bool:
    return line.from_ in ports or line.to in ports


def fine_pore(case: Computed) -> Iterator[Proposal]:
    """Fine-pore pickups at every port that gives to a tee."""
    layout, found = case.layout, case.survey
    for teed in found.teed:
        if teed.fine_pore:
            continue
        tanks = dict(layout.tanks)
        for reference in teed.ports:
            name, port = split_port(reference)
            ports = {**tanks[name].ports, port: with_pores(tanks[name].ports[port])}
            tanks[name] = replace(tanks[name], ports=ports)
        yield Proposal(
            change=f"fine-pore pickups of {in_unit(_PORE, 'length', 'um'):g} um at "
            f"{', '.join(teed.ports)}",
            costs=f"{len(teed.ports)} pickups, {show(_DROP, 'pressure')} each at full flow, to be "
            "renewed when dirty",
            layout=replace(layout, tanks=tanks),
            aims=TEED,
        )


def with_pores(port: Port) -> Port:
    """A port with a fine-pore pickup, otherwise as it was."""
    own = port.pickup or Pickup(kind="fixed")
    swings = own.kind == "clunk" or own.swings
    made = replace(
        own,
        kind="fine-pore",
        swings=bool(swings),
        pore=_PORE,
        area=own.area or _AREA,
        clean_drop=own.clean_drop or _DROP,
        dirty_drop=own.dirty_drop or 2.5 * _DROP,
        length=own.length or 30e-3,
        diameter=own.diameter or 16e-3,
    )
    return replace(port, pickup=made)


def slower_filling(case: Computed) -> Iterator[Proposal]:
    """The highest flow at which no tank comes near to its limit, by the run of the filling."""
    layout = case.layout
    flow = layout.filling.flow
    safe = [x.safe.highest for x in case.filling.values() if x.safe and x.safe.highest]
    if flow is None or not safe or min(safe) >= flow:
        return
    slow = min(safe)
    yield Proposal(
        change=f"fill at {show(slow, 'flow', 5)} instead of {show(flow, 'flow', 5)}",
        costs=f"filling takes {show(flow / slow - 1.0, 'share', 2)} longer",
        layout=replace(layout, filling=replace(layout.filling, flow=slow)),
        aims=frozenset(
            {
                "filling-flow-too-fast",
                "vent-too-narrow-for-filling",
                "tank-overpressured-while-filling",
            }
        ),
    )
