"""What rules a tube out for a line before anything flows."""

import numpy as np

from plumbing.geometry.route import room
from plumbing.model.layout import Layout
from plumbing.model.line import Line, Tube
from plumbing.model.parts import Joint
from plumbing.network.lengths import route_points
from plumbing.physics.materials import material
from plumbing.studies.sizing.limits import SizingLimits
from plumbing.units import show

_SOFT_BELOW = 80.0  # Shore A; common practice
_METALS_ABOVE = 2500.0  # no plastic or rubber is so dense [kg/m3]
_PUSH_IN = 0.2e-3  # by which a push-in tube's outer diameter may differ [m]
_SHARE = 0.60  # of a passage that several tubes may fill


def unfit(
    layout: Layout, line: Line, tube: Tube, limits: SizingLimits, *, suction: bool, joints: bool
) -> str:
    """Why a tube cannot be used for a line, or nothing.

    Parameters
    ----------
    layout : Layout
        The layout.
    line : Line
        The line.
    tube : Tube
        A tube for it.
    limits : SizingLimits
        Limits.
    suction : bool
        Whether the line is under suction.
    joints : bool
        Whether the joints stay as drawn; else they are bought with the tube.
    """
    return (
        _stuff(layout, line, tube)
        or _bends(layout, line, tube)
        or _passages(layout, line, tube)
        or (_wall(tube, limits) if suction else _fill(layout, tube))
        or (_joints(layout, line, tube, limits, suction) if joints else "")
    )


def _stuff(layout: Layout, line: Line, tube: Tube) -> str:
    known = material(tube.material)
    if known is None:
        return f"{tube.material} is not in the material table"
    if not stands_kerosene(tube):
        return f"kerosene attacks {tube.material}"
    parked = (one.hottest for one in layout.parking.values() if one.hottest is not None)
    hottest = max((layout.fuel.temperature.hottest, *parked))
    stands = tube.max_temperature or known.max_celsius
    if stands < hottest:
        return f"it stands {show(stands, 'temperature')}, its fuel gets to " + show(
            hottest, "temperature"
        )
    drawn = layout.tube_of(line).max_temperature
    hot = any(zone.kind in ("hot", "exhaust") for zone in layout.zones.values())
    if hot and drawn is not None and stands < drawn:
        return "it stands less heat than the tube drawn, and there are hot parts"
    return ""


def _bends(layout: Layout, line: Line, tube: Tube) -> str:
    if not line.route or tube.bend_radius is None:
        return ""
    if line.bend_radius is not None and line.bend_radius < tube.bend_radius:
        least, drawn = show(tube.bend_radius, "length"), show(line.bend_radius, "length")
        return f"its smallest radius is {least}, the line is bent to {drawn}"
    if line.bend_radius is None:
        left = room(np.array(route_points(layout, line)), tube.bend_radius)
        if left.min() < -1e-9:
            return (
                f"the legs leave no room for its bend radius of {show(tube.bend_radius, 'length')}"
            )
    return ""


def _passages(layout: Layout, line: Line, tube: Tube) -> str:
    for name in line.through:
        former, _, passage = name.partition(".")
        hole = layout.formers[former].passages[passage]
        clear = hole.diameter - 2.0 * (hole.grommet or 0.0)
        if tube.outside_diameter > clear + 1e-9:
            return f"passage {name} is clear for {show(clear, 'length')} only"
        others = sum(
            layout.tube_of(other).outside_diameter ** 2
            for other in layout.lines.values()
            if name in other.through and other.name != line.name
        )
        if others and others + tube.outside_diameter**2 > _SHARE * clear**2:
            return f"the tubes would fill more than {_SHARE:.0%} of passage {name}"
    return ""


def _wall(tube: Tube, limits: SizingLimits) -> str:
    known = material(tube.material)
    hardness = tube.hardness if tube.hardness is not None else known.hardness if known else None
    if hardness is None or hardness >= _SOFT_BELOW:
        return ""
    wall = 0.5 * (tube.outside_diameter - tube.inside_diameter)
    if tube.inside_diameter > limits.wall_ratio * wall * (1.0 + 1e-9):
        return "suction flattens its soft wall"
    return ""


def _fill(layout: Layout, tube: Tube) -> str:
    """A vent is never narrower than the way fuel comes in."""
    fill = min((_fill_bore(layout, name) for name in layout.fill_ports), default=0.0)
    if tube.inside_diameter < fill - 1e-9:
        return f"a vent must be as wide as the fill line, {show(fill, 'length')}"
    return ""


def _fill_bore(layout: Layout, port: str) -> float:
    lines = [
        layout.tube_of(line).inside_diameter
        for line in layout.lines.values()
        if port in (line.from_.partition(".")[0], line.to.partition(".")[0])
    ]
    return min([layout.fill_ports[port].bore, *lines])


def _joints(layout: Layout, line: Line, tube: Tube, limits: SizingLimits, suction: bool) -> str:
    ends = (layout.joint_at(line, "from"), layout.joint_at(line, "to"))
    return next((why for one in ends if one and (why := _joint(one, tube, limits, suction))), "")


def _joint(joint: Joint, tube: Tube, limits: SizingLimits, suction: bool) -> str:
    own = joint.outside_diameter
    if own is not None and joint.kind == "barb":
        share = tube.inside_diameter / own
        if not limits.tightest <= share <= limits.loosest:
            word = "tight" if share < limits.tightest else "loose"
            return f"its bore sits too {word} on {joint.name} of {show(own, 'length')}"
    pushed = own is not None and joint.kind in ("push-in", "compression")
    if own is not None and pushed and abs(tube.outside_diameter - own) > _PUSH_IN:
        return f"its outer diameter is not the {show(own, 'length')} of {joint.name}"
    least = limits.narrowest * tube.inside_diameter * (1.0 - 1e-9)
    if suction and joint.bore is not None and joint.bore < least:
        return f"{joint.name} of {show(joint.bore, 'length')} bore would choke it"
    return ""


def stands_kerosene(tube: Tube) -> bool:
    """Whether a tube is certain to stand kerosene for years."""
    known = material(tube.material)
    return known is not None and known.kerosene not in ("poor", "unsuitable")


def mass_per_length(tube: Tube) -> float:
    """Mass of a tube per length, from its size and material where it is not stated [kg/m]."""
    if tube.linear_mass is not None:
        return tube.linear_mass
    known = material(tube.material)
    ring = 0.25 * np.pi * (tube.outside_diameter**2 - tube.inside_diameter**2)
    return float(ring * (known.density if known else 1200.0))
