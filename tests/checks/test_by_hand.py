"""Checks that compute something, held to limits worked by hand on both sides."""

import math
from dataclasses import replace

import pytest
from overlay import overlaid, said

from plumbing.checks.kit import Case, Figure, Found, Severity
from plumbing.checks.peaks import suction_over
from plumbing.checks.registry import checks

NAMED = {check.name: check for check in checks()}


def found_by(name: str, fragment: str, starter: str = "single-main") -> list[Found]:
    """What one check finds in a starter with a fragment laid over it."""
    return [s for s in said(NAMED[name], overlaid(starter, fragment)) if isinstance(s, Found)]


@pytest.mark.outside(
    "builders' measurements: 30 to 50 ml/min per kgf, that is 3.1 to 5.1 ml/min per N",
    "plausible full flow",
)
@pytest.mark.parametrize(
    ("flow", "plausible"), [(185, False), (187, True), (305, True), (307, False)]
)
def test_flow_for_thrust(flow, plausible):
    """An engine of 60 N takes 186 to 306 ml/min."""
    engine = f"{{thrust: 60 N, full-flow: {flow} ml/min, flow-ceiling: 400 ml/min}}"
    found = found_by("engine-flow-implausible", f"engines: {{engine: {engine}}}")
    assert (not found) == plausible


@pytest.mark.outside("27.977: five times pi/4 x (4 mm)^2, worked by hand", "area of a strainer")
@pytest.mark.parametrize("excess", [0.99, 1.01])
def test_strainer_of_five_line_areas(excess):
    """In a line of 4 mm bore a screen needs 62.8 mm2."""
    area = excess * 5 * math.pi / 4 * 4.0**2
    found = found_by("strainer-too-small", f"filters: {{screen: {{area: {area:.2f} mm2}}}}")
    assert bool(found) == (excess < 1)


@pytest.mark.outside("pi/4 x d^2 x L / Q, worked by hand", "seconds of full flow in a header")
def test_header_seconds():
    """A cylinder of 30 x 60 mm less its fittings holds 42 ml, 11.6 s at 220 ml/min."""
    (found,) = found_by(
        "header-too-small",
        """
        tanks:
          header:
            displaced: 0 %
            shape: {cylinder: {diameter: 30 mm}}
            ports: {out: {at: [535 mm, 0 mm, -12 mm]}}
        """,
    )
    seconds = math.pi / 4 * 0.030**2 * 0.060 / (220e-6 / 60)
    assert found.measured is not None
    assert found.measured.value == pytest.approx(seconds, rel=1e-3)


@pytest.mark.outside("Q / (pi/4 d^2), worked by hand", "speed in a tube")
def test_speed_in_the_line():
    """220 ml/min run through 2 mm at 1.167 m/s."""
    (found,) = found_by(
        "suction-flow-too-fast",
        "lines: {screen to pump: {tube: polyurethane 4x2, joint: barb-3}}",
    )
    assert found.measured is not None
    assert found.measured.value == pytest.approx(220e-6 / 60 / (math.pi / 4 * 0.002**2), rel=1e-6)


@pytest.mark.outside("common practice: 70 % of the line's bore", "narrow bore")
@pytest.mark.parametrize(("bore", "narrow"), [(2.7, True), (2.8, False)])
def test_barb_of_seventy_per_cent(bore, narrow):
    """In 4 mm tube a barb of 2.8 mm is just wide enough."""
    found = found_by("narrow-bore-on-suction-side", f"joints: {{barb-4: {{bore: {bore} mm}}}}")
    assert bool(found) == narrow


@pytest.mark.outside("common practice: tube bore 75 to 95 % of the barb", "fit on a barb")
@pytest.mark.parametrize(("barb", "fits"), [(4.1, False), (4.3, True), (5.2, True), (5.5, False)])
def test_tube_on_barb(barb, fits):
    """Tube of 4 mm bore fits barbs of 4.21 to 5.33 mm."""
    fragment = f"joints: {{barb-4: {{outside-diameter: {barb} mm}}}}"
    assert (not found_by("tube-loose-on-barb", fragment)) == fits


@pytest.mark.parametrize(
    ("value", "low", "high", "severity"),
    [
        (9e3, 8e3, 9.9e3, None),
        (9e3, 7e3, 12e3, Severity.ADVICE),
        (11e3, 9e3, 13e3, Severity.UNSAFE),
        (12e3, 11e3, 13e3, Severity.UNSAFE),
    ],
)
def test_band_over_the_limit_is_advice(value, low, high, severity):
    """Suction above its limit is found; where only its band reaches above, that is advice."""
    check = NAMED["inlet-suction-too-high"]
    case = Case(overlaid("single-main", "notes: as it is"))
    peak = case.peak.engines["engine"]
    figure = Figure(value, "pressure", low, high)
    found = list(suction_over(replace(peak, suction=figure), figure, 10e3, "at full flow"))
    assert [one.severity or check.severity for one in found] == ([severity] if severity else [])


@pytest.mark.outside("ADR 6.8.2.1.22, surge-plates of 70 % of the section, from memory", "baffles")
@pytest.mark.parametrize(("open_share", "holds"), [("29 %", True), ("31 %", False)])
def test_a_baffle_mostly_closed_holds_the_fuel_back(open_share, holds):
    """A tank of 300 mm with one baffle in the middle is short only where the baffle is closed."""
    found = found_by(
        "long-tank-without-baffle",
        f"""
        tanks:
          main:
            shape: {{box: {{size: [300 mm, 90 mm, 70 mm]}}}}
            baffles: [{{at: 300 mm, open-share: {open_share}}}]
        """,
    )
    assert (not found) == holds


@pytest.mark.outside("27.977: five times pi/4 x (4 mm)^2, worked by hand", "area of a pickup")
@pytest.mark.parametrize("excess", [0.99, 1.01])
def test_fine_pore_pickup_of_five_line_areas(excess):
    """At a port of 4 mm bore a felt needs 62.8 mm2."""
    area = excess * 5 * math.pi / 4 * 4.0**2
    pickup = f"{{kind: fine-pore, area: {area:.2f} mm2}}"
    port = f"{{bore: 4 mm, pickup: {pickup}}}"
    found = found_by("strainer-too-small", f"tanks: {{main: {{ports: {{feed: {port}}}}}}}")
    assert bool([one for one in found if one.part == "main"]) == (excess < 1)
