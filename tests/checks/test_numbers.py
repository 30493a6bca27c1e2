"""Numbers in findings, held to what a builder gets with pencil and paper."""

from math import pi

import pytest
from overlay import overlaid, said

from plumbing.checks.kit import Found
from plumbing.checks.registry import checks

NAMED = {check.name: check for check in checks()}


def found(name: str, fragment: str, starter: str = "single-main") -> Found:
    """First finding of a check in a starter with a fragment laid over it."""
    one = next(iter(said(NAMED[name], overlaid(starter, fragment))))
    assert isinstance(one, Found)
    return one


@pytest.mark.outside("half density times speed squared, 1.225 kg/m3", quantity="outlet pressure")
@pytest.mark.parametrize(("speed", "pascals"), [(50, 1531.25), (80, 3920.0), (100, 6125.0)])
def test_dynamic_pressure_at_a_forward_outlet(speed, pascals):
    """An outlet that looks forward takes the whole dynamic pressure."""
    fragment = f"""
aircraft: {{max-airspeed: {speed} m/s}}
outlets: {{vent: {{facing: forward, pressure-coefficient: null}}}}
"""
    one = found("outlet-in-the-airstream", fragment)
    assert one.measured is not None
    assert one.measured.value == pytest.approx(pascals)
    assert one.measured.low == pytest.approx(0.9 * pascals)
    assert one.measured.high == pytest.approx(pascals)


def test_band_of_a_side_outlet_crosses_the_limit():
    """Across the stream the coefficient is little known: the finding says it is not certain."""
    one = found("outlet-in-the-airstream", "outlets: {vent: {pressure-coefficient: null}}")
    assert one.measured is not None
    assert one.allowed is not None
    assert one.measured.crosses(one.allowed.value)


@pytest.mark.outside("plane trigonometry by hand", quantity="head over a parked engine")
def test_head_over_a_parked_engine():
    """Nose up 1 degree, 97 % of a 70 mm tank at x = 300 stands 61 mm over the engine at x = 1060.

    Surface 57.9 mm less 300 sin 1 degree; engine 10 mm less 1060 sin 1 degree.
    """
    fragment = """
parking: {on its wheels: {shut-off-closed: no}}
valves: {fuel valve: {unpowered: open}}
"""
    one = found("engine-below-fuel-with-valve-open", fragment)
    assert one.measured is not None
    assert one.measured.value == pytest.approx(0.0579 + 0.76 * 0.017452 - 0.010, abs=1e-4)


def test_mesh_over_an_outlet():
    """Five times the area of a 4 mm bore is asked for."""
    one = found("vent-open-to-debris", "outlets: {vent: {bore: 4 mm, mesh-area: 20 mm2}}")
    assert one.allowed is not None
    assert one.allowed.value == pytest.approx(5 * pi / 4 * 0.004**2)


def test_lost_volume_above_a_low_vent():
    """20 of 70 mm above the opening keep two sevenths of a box full of air."""
    one = found(
        "vent-opens-below-top", "tanks: {main: {ports: {vent: {opens-at: [196 mm, 30 mm, 40 mm]}}}}"
    )
    assert one.measured is not None
    assert one.measured.value == pytest.approx(2 / 7, rel=1e-6)


def test_lateral_moment():
    """9.2 kg, 30 mm off the centre line, roll with their weight times 30 mm."""
    one = found("lateral-moment-too-high", "aircraft: {dry-cg: [372 mm, 30 mm, 20 mm]}")
    assert one.measured is not None
    assert one.measured.value == pytest.approx(9.80665 * 9.2 * 0.030)


def test_pickup_that_hangs_short():
    """A 60 mm clunk from the middle of the lid of a 240 x 70 mm tank, tail down 15 degrees.

    It hangs straight down: lid less 60 mm of hose, against the aft lower corner.
    """
    one = found(
        "pickup-misses-low-corner", "tanks: {main: {ports: {feed: {pickup: {reach: 60 mm}}}}}"
    )
    assert one.measured is not None
    # height above the tank's middle: (35 cos - 60) for the clunk, -35 cos - 120 sin for the corner
    cosine, sine = 0.9659258, 0.2588190
    expected = 0.070 * cosine + 0.120 * sine - 0.060
    assert one.measured.value == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(("diameter", "fault"), [(47, False), (48, True)])
def test_former_is_weakened_above_a_quarter(diameter, fault):
    """Of a web 190 mm wide a hole of 47 mm takes less than a quarter, one of 48 mm more."""
    hole = f"formers: {{F2: {{passages: {{big: {{at: [0 mm, 0 mm], diameter: {diameter} mm}}}}}}}}"
    assert bool(said(NAMED["former-weakened"], overlaid("single-main", hole))) is fault
