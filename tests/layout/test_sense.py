"""Values that contradict each other or cannot be."""

import pytest
from layout_samples import SMALL, only_fault, right

END = "feed-order:"


def added(text):
    """A change that adds a section before the end."""
    return END, f"{text}\n{END}"


POINTS = "[{{at: 20 degC, value: {0}}}, {{at: {1}, value: 1.2 mm2/s}}]"
RUN = "{points: [[0 m, 0 m, 0 m]], diameter: 4 mm}"
LOG = "log: {file: a.csv, columns: {throttle: t}}"
BOTH = "both `phases` and `log`"
CONTRADICTIONS = [
    (*added("aircraft: {cg-limits: [300 mm, 200 mm]}"), "a forward limit that is not ahead"),
    (*added("aircraft: {cg-limits: [300 mm, 300 mm]}"), "a forward limit that is not ahead"),
    (*added("aircraft: {load-factors: {positive: -3 g}}"), "`negative` not below `positive`"),
    (*added("fuel: {temperature: {coldest: 30 degC}}"), "temperatures out of order"),
    (*added("fuel: {temperature: {hottest: 10 degC}}"), "temperatures out of order"),
    (*added("fuel: {kind: own, density-15: 800 kg/m3}"), "a fuel of your own without `viscosity`"),
    (
        *added("fuel: {kind: own, viscosity: " + POINTS.format("2 mm2/s", "40 degC") + "}"),
        "a fuel of your own without `density-15`",
    ),
    (*added("fuel: {viscosity: [{at: 20 degC, value: 2 mm2/s}]}"), "1 viscosity points"),
    (
        *added("fuel: {viscosity: " + POINTS.format("2 mm2/s", "20 degC") + "}"),
        "two viscosity points at one temperature",
    ),
    (
        *added("fuel: {viscosity: " + POINTS.format("1 mm2/s", "40 degC") + "}"),
        "a viscosity that does not fall when warmer",
    ),
    (
        *added("tubes: {t: {outside-diameter: 4 mm, inside-diameter: 4 mm, material: nylon}}"),
        "an inner diameter of tube `t` that is not below the outer one",
    ),
    ("bore: 3.6 mm", "bore: 3.6 mm, outside-diameter: 3.6 mm", "an inner diameter of joint `barb`"),
    (
        "reach: 120 mm",
        "reach: 120 mm, hose: {length: 90 mm, bore: 4 mm, outside-diameter: 3 mm}",
        "an inner diameter of the hose at `main.feed`",
    ),
    (
        *added(
            "filters: {f: {at: [0 m, 0 m, 0 m], bore: 3 mm, clean-drop: 3 kPa, dirty-drop: 1 kPa}}"
        ),
        "a drop less when dirty than clean",
    ),
    (
        "bore: 3 mm}",
        "bore: 3 mm, curve: [{flow: 1 L/min, pressure: 1 bar}]}",
        "the curve of `pump`",
    ),
    (
        "bore: 3 mm}",
        "bore: 3 mm, curve: [{flow: 1 L/min, pressure: 1 bar}, {flow: 2 L/min, pressure: 2 bar}]}",
        "the curve of `pump`",
    ),
    ("thrust: 60 N", "bore: 3 mm", "engine `engine` without `thrust` and without `full-flow`"),
    ("thrust: 60 N", "thrust: 0 N", "zero"),
    ("thrust: 60 N", "full-flow: 1 L/min, idle-flow: 2 L/min", "`idle-flow` above `full-flow`"),
    (
        "thrust: 60 N",
        "full-flow: 1 L/min, flow-ceiling: 0.5 L/min",
        "`full-flow` above `flow-ceiling`",
    ),
    ("    ports:", "    displaced: 100 %\n    ports:", "a tank with no room for fuel"),
    (
        "throttle: 50 %}",
        "throttle: 50 %, felt: {up: 2 g}, pitch: 3 deg}",
        "phase `cruise` with both `felt`",
    ),
    (", throttle: 50 %", "", "phase `cruise` without `throttle`"),
    ("duration: 60 s, ", "", "phase `cruise` without `duration`"),
    ("duration: 60 s", "duration: 0 s", "phase `cruise` of no duration"),
    ("duration: 60 s", "duration: -60 s", "`-60 s`, out of bounds"),
    (
        "throttle: 50 %}",
        "throttle: 50 %, phases: [{duration: 1 s, throttle: 1 %}]}",
        "phase `cruise`, a group with `duration` or `throttle`",
    ),
    ("    phases:", f"    {LOG}\n    phases:", BOTH),
    (*added("measured: {m: {what: left-over, time: 3 s}}"), "`m`, left-over without `volume`"),
    (*added("zones: {z: {kind: wiring, body: {run: " + RUN + "}}}"), "a run of one point"),
]


@pytest.mark.parametrize(("old", "new", "found"), CONTRADICTIONS)
def test_contradiction(old, new, found, tmp_path, monkeypatch):
    """A contradiction is one fault, with what would be right."""
    (tmp_path / "a.csv").write_text("t\n")
    monkeypatch.chdir(tmp_path)
    fault = only_fault((old, new))
    assert fault.found.startswith(found)
    assert fault.expected
    assert fault.place.line > 1


def test_flight_of_nothing():
    """A flight needs phases or a log."""
    phases = "    phases:\n      - {name: cruise, duration: 60 s, throttle: 50 %}\n"
    fault = only_fault(("  sport:\n" + phases, "  sport: {}\n"))
    assert fault.found == "neither `phases` nor `log` in flight `sport`"


def test_log_beside_the_layout(tmp_path, monkeypatch):
    """A recorded flight must be there, as a file of its kind in the layout's folder."""
    log = "\nflights:\n  f: {log: {file: NAME, columns: {throttle: t}}}\n"
    phases = SMALL[SMALL.index("\nflights") : SMALL.index("feed-order")]
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.csv").write_text("time,t\n0,1\n")
    right((phases, log.replace("NAME", "a.csv")))
    for name in ("b.csv", "../a.csv", "a.txt"):
        assert (
            "`.csv` file in the layout's folder"
            in only_fault((phases, log.replace("NAME", name))).expected
        )


def test_group_of_phases():
    """A group of phases has only its repeat and its phases."""
    group = "name: cruise, repeat: 3, phases: [{duration: 5 s, throttle: 100 %, felt: {up: 3 g}}]"
    layout = right(("name: cruise, duration: 60 s, throttle: 50 %", group))
    (phase,) = layout.flights["sport"].phases
    assert phase.repeat == 3
    assert phase.phases[0].felt is not None
    assert phase.phases[0].felt.up == 3.0
