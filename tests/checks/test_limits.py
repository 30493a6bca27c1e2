"""Every check with a limit, judged just on either side of it and held to the trade's number."""

import csv
from functools import cache
from pathlib import Path

import pytest
from overlay import overlaid

from plumbing import quantities
from plumbing.checks.kit import Case, Check, Found
from plumbing.checks.registry import checks
from plumbing.checks.run import asked

LIMITED = {check.name: check for check in checks() if check.limit is not None}
TABLE = Path(__file__).with_name("limits.csv")
# compared in tests of their own
APART = ("joint-above-electronics", "outside-airframe", "parts-overlap")
COMPARED = [check for name, check in LIMITED.items() if name not in APART]
NEAR = 1e-3  # of the limit, to either side of it


BETWEEN = {  # where the check's own example is at a bound, or does not compare with the limit
    "no-expansion-space": "tanks: {main: {fill: 99 %}}",
    "tank-breaks-loose": "tanks: {main: {fixing: {holds: 8 g}}}",
    "tank-in-disc-plane": """
        zones: {turbine wheel: {shielded: no, body: {disc: {at: [440 mm, 0 mm, 10 mm]}}}}
    """,
    "tank-near-hot-part": """
        zones:
          engine case:
            shielded: no
            clearance: null
            body: {box: {at: [455 mm, 0 mm, 25 mm], size: [40 mm, 40 mm, 40 mm]}}
    """,
    "lateral-moment-too-high": """
        aircraft: {dry-cg: [372 mm, 30 mm, 20 mm], lateral-limit: null}
    """,
    "failsafe-too-slow": "engines: {engine: {stops: {failsafe-time: 3 s}}}",
    "bend-too-tight": "lines: {feed: {bend-radius: 30 mm}}",
    "hose-overdue": "{papers: {renewal: 10 years}, lines: {feed: {age: 3 years}}}",
    "no-slack-at-connector": """
        connectors: {root: {at: [430 mm, 0 mm, 110 mm], bore: 4 mm, travel: 20 mm}}
        lines:
          feed: {to: root.in, spare: 40 mm}
          root to header: {from: root.out, to: header.in, tube: polyurethane 6x4, spare: 60 mm}
    """,
    "cut-length-too-short": "lines: {feed: {cut-length: 305 mm}}",
    "clips-too-far-apart": "lines: {feed: {clips: 200 mm}}",
    "line-near-hot-part": """
        zones:
          engine case:
            shielded: no
            clearance: null
            body: {box: {at: [400 mm, 0 mm, 135 mm], size: [20 mm, 20 mm, 20 mm]}}
    """,
    "line-near-moving-part": """
        zones:
          elevator rod:
            kind: moving
            body: {run: {points: [[350 mm, 0 mm, 119 mm], [450 mm, 0 mm, 119 mm]], diameter: 6 mm}}
    """,
    "line-through-disc-plane": """
        zones: {turbine wheel: {shielded: no, body: {disc: {at: [1080 mm, 0 mm, 10 mm]}}}}
    """,
    "oblique-passage": """
        formers: {F2: {passages: {feed: {diameter: 14 mm, grommet: null, edge: bare}}}}
        lines: {feed: {bend-radius: 5 mm, route: [[446 mm, 0 mm, 94 mm], [474 mm, 0 mm, 126 mm]]}}
    """,
    "stiff-tube-on-barb": """
        tubes: {stub: {outside-diameter: 6 mm, inside-diameter: 3.5 mm, material: nylon}}
        lines: {feed: {tube: stub}}
    """,
    "former-through-tank": "formers: {F2: {station: 423.5 mm}}",
    "part-in-keep-out": """
        zones:
          spar:
            kind: keep-out
            body: {box: {at: [790 mm, 0 mm, 5 mm], size: [20 mm, 20 mm, 20 mm]}}
    """,
    "tank-in-keep-out": """
        zones:
          spar:
            kind: keep-out
            body: {box: {at: [430 mm, 0 mm, 0 mm], size: [15 mm, 80 mm, 80 mm]}}
    """,
    "tank-near-moving-part": """
        zones:
          leg:
            kind: moving
            body: {box: {at: [430 mm, 0 mm, 0 mm], size: [10 mm, 80 mm, 80 mm]}}
    """,
    "tanks-too-near": """
        tanks:
          header:
            shape: {cylinder: {at: [445.5 mm, 0 mm, 10 mm]}}
            ports: {in: {at: [445.5 mm, 0 mm, 40 mm]}, out: {at: [467.5 mm, 0 mm, -16 mm]}}
    """,
    "line-in-keep-out": """
        zones:
          spar:
            kind: keep-out
            body: {box: {at: [400 mm, 0 mm, 124 mm], size: [10 mm, 80 mm, 20 mm]}}
    """,
    "electronics-near-fuel": """
        zones:
          receiver:
            shielded: no
            body: {box: {at: [153.5 mm, 0 mm, 10 mm], size: [40 mm, 40 mm, 20 mm]}}
    """,
    "siphons-when-parked": """
        tanks: {main: {ports: {breather: {at: [300 mm, -30 mm, 60 mm], bore: 3.6 mm}}}}
        outlets: {breather: {at: [400 mm, -60 mm, 150 mm], bore: 4 mm}}
        lines: {breather: {from: main.breather, to: breather.tube, tube: polyurethane 6x4}}
        parking: {nose down: {pitch: -12 deg, fuel: 100 %}}
    """,
}


@cache
def rows() -> dict[str, dict[str, str]]:
    """The table of usual limits by check, typed from practice and the rules it names."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        return {row["check"]: row for row in csv.DictReader(file)}


@cache
def case_of(check: Check) -> Case:
    """A case that the check finds, judged by each test that needs it."""
    return Case(overlaid(check.starter, BETWEEN.get(check.name, check.bad)))


def figures(check: Check, case: Case, limit: float) -> list[tuple[str, float, float, int]]:
    """Part, measured and allowed value and rank of severity of each finding with figures."""
    return [
        (one.part, one.measured.value, one.allowed.value, (one.severity or check.severity).rank)
        for one in asked(check, case, limit)
        if isinstance(one, Found) and one.measured is not None and one.allowed is not None
    ]


@pytest.mark.parametrize("check", COMPARED, ids=lambda check: check.name)
def test_found_just_beyond_its_limit_and_silent_just_within(check: Check):
    """With the limit just on either side of what is measured, and at it, the answer changes.

    What is allowed is the limit, a multiple of it, or either and an amount: a straight line, on
    which the limit is read where what is allowed is what was measured.
    """
    assert check.limit is not None
    case, usual = case_of(check), check.limit.value
    judged = figures(check, case, usual)
    assert judged
    assert all(part for part, *_ in judged)
    _, value, most, _ = judged[0]
    step = (1e-4 if value > most else -1e-4) * (usual or value)
    slopes = [
        (again[2] - one[2]) / step
        for one, again in zip(judged, figures(check, case, usual + step), strict=True)
    ]
    meeting: dict[tuple[str, float, float], list[float]] = {}
    for (part, measured, allowed, _), slope in zip(judged, slopes, strict=True):
        side = 1.0 if (measured > allowed) == (slope > 0.0) else -1.0
        at = usual + (measured - allowed) / slope
        meeting.setdefault((part, measured, side), []).append(at)
    bar = max(check.severity.rank, *(rank for *_, rank in judged))

    def says(limit: float, part: str, measured: float) -> bool:
        return any(
            one == part and value == measured and rank <= bar
            for one, value, _, rank in figures(check, case, limit)
        )

    for (part, measured, side), meets in meeting.items():
        assert rows()[check.name]["side"] == ("most" if side > 0.0 else "least")
        at = max(meets, key=lambda limit, side=side: side * limit)
        assert says(at - side * NEAR * at, part, measured)
        assert not says(at + side * NEAR * at, part, measured)
        if measured == pytest.approx(at, rel=1e-9):  # the limit itself: what just meets it passes
            assert not says(measured, part, measured)


@pytest.mark.parametrize(("aside", "above"), [(9, True), (11, False)])
def test_joint_above_electronics_reaches_ten_millimetres(aside, above):
    """A joint 9 mm beside a receiver is over it, one 11 mm beside it is not."""
    check = LIMITED["joint-above-electronics"]
    edge = 542 + aside  # the outlet of the header is at x = 542 mm, 12 mm below the datum
    layout = overlaid(
        "single-main",
        f"""
        zones:
          receiver:
            shielded: no
            body: {{box: {{at: [{edge + 5} mm, 0 mm, -60 mm], size: [10 mm, 10 mm, 10 mm]}}}}
        """,
    )
    assert bool(asked(check, Case(layout), 0.010)) == above


@pytest.mark.parametrize("check", LIMITED.values(), ids=lambda check: check.name)
def test_limit_of_zero_is_a_limit(check: Check):
    """A file may set the limit to zero: the check still answers."""
    if not check.rests_on:
        asked(check, case_of(check), 0.0)


def test_every_limit_is_in_the_table():
    """The table has each check with a limit, and no other."""
    assert rows().keys() == LIMITED.keys()


@pytest.mark.parametrize("check", LIMITED.values(), ids=lambda check: check.name)
def test_usual_limit_is_the_trade_s(check: Check):
    """The usual limit is what the table says, which names whose number it is."""
    assert check.limit is not None
    row = rows()[check.name]
    assert check.limit.value == pytest.approx(quantities.parse(row["usual"], check.limit.kind))
    assert row["source"].strip()
