"""What rests on assumed values alone is advice that says what to state."""

import pytest
from overlay import overlaid

from plumbing.checks.case import Case
from plumbing.checks.registry import checks
from plumbing.checks.run import judge
from plumbing.findings import Finding, Severity

CHECKS = {check.name: check for check in checks()}
UNSTATED = "engines: {engine: {feed-pressure-full: null}}"
HEADER = "tanks: {header: {%s, ports: {out: {at: [542 mm, 0 mm, 35 mm]}}}}"


def found(check: str, text: str, starter: str = "single-main") -> list[Finding]:
    """What one check says of a starter with something laid over it."""
    return list(judge(Case(overlaid(starter, text)), [CHECKS[check]]).findings)


def only(check: str, text: str) -> Finding:
    """The same where there is one finding."""
    (one,) = found(check, text)
    return one


def pump(kilopascal: float) -> str:
    """A pump that makes so much at any flow asked of it."""
    points = ", ".join(
        f"{{flow: {flow}, pressure: {value:g} kPa}}"
        for flow, value in (("0 ml/min", kilopascal), ("1 L/min", 0.95 * kilopascal))
    )
    return f"pumps: {{pump: {{curve: [{points}]}}}}\n"


@pytest.mark.parametrize(
    ("kilopascal", "severity"), [(390.0, Severity.ADVICE), (200.0, Severity.UNSAFE)]
)
def test_a_pump_is_too_weak_for_sure_below_what_any_engine_takes(kilopascal, severity):
    """Engines take 300 to 600 kPa, common practice: 390 kPa may do, 200 kPa does for none."""
    one = only("pump-pressure-too-low", pump(kilopascal) + UNSTATED)
    assert one.severity is severity
    asks = "state engines.engine.feed-pressure-full to know" in one.doubt
    assert asks is (severity is Severity.ADVICE)


def test_air_of_an_assumed_header_fill_is_advice():
    """An outlet at the top draws air of a header filled to the assumed 98 %, none of 100 %."""
    assumed = only("air-reaches-pump-in-flight", HEADER % "fill: null")
    assert assumed.severity is Severity.ADVICE
    assert "state tanks.header.fill" in assumed.doubt
    assert only("air-reaches-pump-in-flight", HEADER % "fill: 98 %").severity is Severity.UNSAFE
    assert found("air-reaches-pump-in-flight", HEADER % "fill: 100 %") == []


def test_air_that_comes_whatever_the_header_held_stays_unsafe():
    """A flight longer than the fuel lasts brings air to the pump from any header."""
    long = "flights: {sport: {phases: [{name: level, duration: 15 min, throttle: 60 %}]}}\n"
    one = only("air-reaches-pump-in-flight", long + "tanks: {header: {fill: null}}")
    assert one.severity is Severity.UNSAFE
    assert one.assumed == ()


@pytest.mark.parametrize("check", ["lands-below-reserve", "engine-stops-in-flight"])
def test_what_is_found_in_an_assumed_flight_only_is_advice(check):
    """With 60 % in the main the usual flight of 9 min ends dry; three level minutes do not."""
    one = only(check, "tanks: {main: {fill: 60 %}}\nflights: null")
    assert one.severity is Severity.ADVICE
    assert "state flights to know" in one.doubt


def test_fuel_for_no_flight_at_all_stays_a_fault():
    """With a tenth in the main no reserve is left after three level minutes either."""
    one = only("lands-below-reserve", "tanks: {main: {fill: 10 %}}\nflights: null")
    assert one.severity is Severity.FAULT


def test_suction_at_assumed_loads_is_advice():
    """A pump 400 mm up costs 3.2 kPa for each g: within 20 kPa at 4 g, not at the usual 6 g."""
    check, high = "loaded-suction-too-high", "pumps: {pump: {at: [790 mm, 0 mm, 400 mm]}}\n"
    stated = only(check, high + "aircraft: {load-factors: {positive: 6 g, negative: -2 g}}")
    assert stated.severity is Severity.UNSAFE
    assumed = only(check, high + "aircraft: {load-factors: null}")
    assert assumed.severity is Severity.ADVICE
    assert "state aircraft.load-factors to know" in assumed.doubt


@pytest.mark.parametrize(("diameter", "severity"), [(34, Severity.ADVICE), (30, Severity.UNSAFE)])
def test_a_header_is_too_small_for_sure_where_no_engine_of_the_thrust_would_do(diameter, severity):
    """60 N take 200 to 255 ml/min, usually 220 (common practice): 14.7 s may be 16.2 s."""
    shape = f"shape: {{cylinder: {{diameter: {diameter} mm}}}}"
    text = f"tanks: {{header: {{{shape}, ports: {{out: {{at: [535 mm, 0 mm, -12 mm]}}}}}}}}\n"
    one = only("header-too-small", text + "engines: {engine: {full-flow: null}}")
    assert one.severity is severity
    assert ("engines.engine.full-flow" in one.doubt) is (severity is Severity.ADVICE)


def test_a_clunk_of_assumed_length_is_advice_where_half_a_clunk_decides():
    """A reach worked out from the hose is uncertain by half a clunk, 10 mm."""
    lay = "tanks: {main: {ports: {feed: {pickup: {reach: null, snag: %s}}}}}"
    hose = overlaid("single-main", "{}").tanks["main"].ports["feed"].pickup.hose.length
    near, far = (f"{1e3 * (hose + more):.0f} mm" for more in (0.015, -0.02))
    assert only("clunk-can-jam", lay % near).severity is Severity.ADVICE
    assert only("clunk-can-jam", lay % far).severity is Severity.UNSAFE
