"""A tank over a wing tube, to fly in the tests."""

from dataclasses import replace

from flight_rigs import FLOOR, single

from plumbing.model.tank import Prism, Section

LEG, BRIDGE = 1e-3, 0.6e-3  # m3
WIDE, LONG, TALL = 0.05, 0.2, 0.1  # a leg [m]
TOP = TALL + BRIDGE / (0.19 * LONG)  # of the whole tank
INVERTED = (
    (-0.095, 0.0),
    (-0.045, 0.0),
    (-0.045, TALL),
    (0.045, TALL),
    (0.045, 0.0),
    (0.095, 0.0),
    (0.095, TOP),
    (-0.095, TOP),
)


def saddle(outline, rest, **more):
    """The rig's one tank with a prism 200 mm long, its pickup resting at a point [mm]."""
    height = max(z for _, z in outline) * 1e3
    layout = single(size=(200, 190, height), rest=rest, flow=160.0, **more)
    tank = layout.tanks["main"]
    sections = tuple(Section(station=x, outline=outline) for x in (0.0, LONG))
    tank = replace(tank, shape=Prism(at=(0.0, 0.0, 0.0), sections=sections), displaced=0.0)
    return replace(layout, tanks={**layout.tanks, "main": tank})


def inverted_u(**more):
    """A tank of 2.6 L over a wing tube, its pickup at the floor of the port leg."""
    return saddle(INVERTED, (0, -70, -500 * TOP + FLOOR), **more)
