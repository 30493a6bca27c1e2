"""Flying what was recorded: the same flight as phases and as a log comes to the same."""

from dataclasses import replace

import numpy as np
import pytest

from plumbing import api
from plumbing.geometry.attitude import gravity_body
from plumbing.layout import load, starter
from plumbing.layout.logs import Recording
from plumbing.model.flight import Felt, Flight, Log, Phase
from plumbing.network import survey
from plumbing.simulation.flight import fly, profile_for
from plumbing.simulation.profile import profile_of
from plumbing.simulation.recorded import profile_of_file, profile_of_recording
from plumbing.simulation.usual_flights import usual_profile

RATE = 20  # rows a second


@pytest.fixture(scope="module")
def layout(tmp_path_factory):
    """An aircraft with a main tank and a header."""
    path = tmp_path_factory.mktemp("layout") / "one.yaml"
    path.write_text(starter("single-main"))
    return load(path)


def recorded(profile, flow=None, **more):
    """The log a recorder would write of a profile."""
    ends = np.cumsum(profile.duration)
    time = np.arange(round(ends[-1] * RATE) + 1) / RATE
    row = np.minimum(np.searchsorted(ends, time + 1e-9, side="right"), len(ends) - 1)
    load = -profile.gravity[row] / 9.80665
    felt = np.stack([-load[:, 0], load[:, 1], load[:, 2]], axis=-1)
    throttle = profile.throttle[row] if flow is None else None
    return Recording(
        file="made.csv",
        time=time,
        throttle=throttle,
        flow=None if flow is None else flow[row],
        felt=felt,
        airspeed=None,
        **more,
    )


def alike(layout, one, two):
    """Two profiles come to the same flight."""
    net = survey(layout)
    first, second = fly(layout, net, one), fly(layout, net, two)
    assert second.usable == pytest.approx(first.usable, rel=0.01)
    assert second.endurance == pytest.approx(first.endurance, abs=3.0)
    assert [name for name, _ in second.order] == [name for name, _ in first.order]
    assert second.history.burnt[-1].sum() == pytest.approx(first.history.burnt[-1].sum(), rel=2e-3)
    for name, left in first.stranded.items():
        assert second.stranded[name] == pytest.approx(left, abs=0.02 * first.on_board)


@pytest.mark.quick("scale")
@pytest.mark.outside("second method: the same flight as phases", quantity="recorded flight")
@pytest.mark.parametrize("style", ["scale", "sport"])
def test_log_of_phases_comes_to_the_phases(layout, style):
    """The usual flight, and a log of it, burn and strand the same and end together."""
    profile = usual_profile(style)
    again = profile_of_recording(layout, recorded(profile), "log")
    aloft = np.flatnonzero(profile.airborne)
    begins = np.cumsum(profile.duration) - profile.duration
    middle = np.cumsum(again.duration) - 0.5 * again.duration
    start, end = begins[aloft[0]], begins[aloft[-1]] + profile.duration[aloft[-1]]
    again = replace(again, airborne=(middle > start) & (middle < end))
    alike(layout, profile, again)


@pytest.mark.slow
def test_recorded_flow_is_flown(layout):
    """A log of the flow itself comes to the same as one of the throttle."""
    profile = usual_profile("scale")
    idle = sum(engine.idle_flow for engine in layout.engines.values())
    full = sum(engine.full_flow for engine in layout.engines.values())
    flow = idle + profile.throttle * (full - idle)
    by_throttle = profile_of_recording(layout, recorded(profile), "log")
    by_flow = profile_of_recording(layout, recorded(profile, flow), "log")
    assert by_flow.flow is not None
    assert by_flow.flow @ by_flow.duration == pytest.approx(flow @ profile.duration, rel=1e-9)
    assert by_flow.length == pytest.approx(profile.length, rel=1e-12)
    alike(layout, by_throttle, by_flow)


@pytest.mark.slow
def test_noise_does_not_change_the_flight(layout):
    """Vibration of a tenth of a g and throttle noise average out, but for the last mouthfuls."""
    random = np.random.default_rng(1)
    profile = usual_profile("scale")
    clean = recorded(profile)
    noisy = Recording(
        file="made.csv",
        time=clean.time,
        throttle=np.clip(clean.throttle + 0.01 * random.normal(size=len(clean.time)), 0, 1),
        felt=clean.felt + 0.1 * random.normal(size=clean.felt.shape),
    )
    one, two = (profile_of_recording(layout, log, "log") for log in (clean, noisy))
    net = survey(layout)
    first, second = fly(layout, net, one), fly(layout, net, two)
    assert second.usable == pytest.approx(first.usable, rel=0.04)
    assert second.endurance == pytest.approx(first.endurance, rel=0.04)


@pytest.mark.parametrize(
    ("felt", "gravity"),
    [
        ([0.0, 0.0, 1.0], gravity_body(0.0)),
        ([0.5, 0.0, 1.0], [0.5 * 9.80665, 0.0, -9.80665]),  # forwards: fuel runs aft
        ([0.0, 0.3, 1.0], [0.0, -0.3 * 9.80665, -9.80665]),  # to starboard: fuel runs to port
        ([0.0, 0.0, 3.0], [0.0, 0.0, -3 * 9.80665]),
        ([0.0, 0.0, -1.0], [0.0, 0.0, 9.80665]),  # inverted
    ],
)
def test_load_factors_point_where_fuel_falls(layout, felt, gravity):
    """What is felt piles fuel up on the other side, as in a phase with the same load factors."""
    log = Recording(
        file="", time=np.array([0.0, 4.0]), throttle=np.ones(2), felt=np.array([felt] * 2)
    )
    found = profile_of_recording(layout, log, "log").gravity[0]
    np.testing.assert_allclose(found, gravity, atol=1e-9)
    phase = Phase(
        duration=4.0, throttle=1.0, felt=Felt(forward=felt[0], starboard=felt[1], up=felt[2])
    )
    np.testing.assert_allclose(profile_of("phase", (phase,)).gravity[0], found, atol=1e-9)


def test_attitude_counts_without_load_factors(layout):
    """Pitch and roll give gravity at rest."""
    log = Recording(
        file="",
        time=np.arange(3.0),
        throttle=np.ones(3),
        pitch=np.full(3, 0.4),
        roll=np.full(3, -0.2),
    )
    found = profile_of_recording(layout, log, "log").gravity[0]
    np.testing.assert_allclose(found, gravity_body(0.4, -0.2), atol=1e-9)


@pytest.mark.parametrize("sensor", ["airspeed", "height", "roll", "throttle", "nothing"])
def test_when_it_is_in_the_air(layout, sensor):
    """In the air is what airspeed shows, else height, else attitude, else first full throttle."""
    time = np.arange(0.0, 100.0, 0.5)
    up = (time >= 30.0) & (time < 80.0)
    columns = {"throttle": np.full(len(time), 0.5)}
    match sensor:
        case "airspeed":
            columns["airspeed"] = np.where(up, 40.0, 2.0)
        case "height":
            columns["height"] = np.where(up, 60.0, 0.0)
        case "roll":
            columns["roll"] = np.where(up, 0.6, 0.0)
        case "throttle":
            columns["throttle"] = np.where(up, 1.0, 0.1)
    profile = profile_of_recording(layout, Recording(file="", time=time, **columns), "log")
    begin = np.cumsum(profile.duration) - profile.duration
    flown = float(profile.duration[profile.airborne].sum())
    expected = {"throttle": 69.5, "nothing": 99.5}.get(sensor, 50.0)
    assert flown == pytest.approx(expected, abs=0.6)
    first = begin[profile.airborne][0]
    assert first == pytest.approx(0.0 if sensor == "nothing" else 30.0, abs=0.6)
    assert any(one.what == "log: in the air" for one in profile.assumptions)


def test_two_engines_share_the_recorded_flow(tmp_path):
    """Recorded flow is shared among the engines as their full flows are."""
    path = tmp_path / "two.yaml"
    path.write_text(starter("twin-engine"))
    twin = load(path)
    time = np.arange(0.0, 20.0, 0.5)
    log = Recording(file="", time=time, flow=np.full(len(time), 1e-5))
    flown = fly(twin, survey(twin), profile_of_recording(twin, log, "log"))
    assert flown.history.flow[0].sum() == pytest.approx(1e-5, rel=1e-12)
    full = np.array([engine.full_flow for engine in twin.engines.values()])
    np.testing.assert_allclose(
        np.sort(flown.history.flow[0]), np.sort(1e-5 * full / full.sum()), rtol=1e-12
    )


def test_flight_of_a_layout_may_be_a_log(tmp_path):
    """A log named in the layout is read beside it and flown, with its name."""
    path = tmp_path / "one.yaml"
    path.write_text(starter("single-main"))
    (tmp_path / "logs").mkdir()
    rows = "".join(f"{n / 10},{50}\n" for n in range(600))
    (tmp_path / "logs" / "w.csv").write_text("time,throttle [%]\n" + rows)
    windy = Flight(name="windy", log=Log(file="logs/w.csv"))
    loaded = replace(load(path), flights={"windy": windy})
    profile = profile_for(loaded, "windy")
    assert profile.name == "windy"
    assert profile.length == pytest.approx(59.9)
    assert api.fly(loaded, "windy").mean_flow > 0


def test_file_of_the_command_line(layout, tmp_path):
    """A log given by its path is flown with the usual column names, or stated ones."""
    path = tmp_path / "a.csv"
    path.write_text(
        "time [ms],throttle [%],roll [deg]\n0,50,0\n1000,50,0\n2000,50,90\n3000,50,90\n"
    )
    profile = profile_of_file(layout, path)
    assert profile.length == pytest.approx(3.0)
    np.testing.assert_allclose(profile.gravity[-1], gravity_body(0.0, np.pi / 2), atol=1e-9)
    assert profile_of_file(layout, path, Log(file="", smoothing=0.0)).length == pytest.approx(3.0)
    assert api.fly(layout, log=path).profile.name == "a.csv"
