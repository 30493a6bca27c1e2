"""How long recorded flights take to read, compress and fly; never asserted."""

import numpy as np
import pytest

from plumbing.layout import read, starter
from plumbing.layout.logs import read_file
from plumbing.network import survey
from plumbing.simulation.flight import fly
from plumbing.simulation.recorded import profile_of_recording
from plumbing.simulation.usual_flights import usual_profile

HOUR, RATE = 3600.0, 50


@pytest.fixture(scope="module")
def hour(tmp_path_factory):
    """An hour at 50 Hz: usual flights one after another, with noise, six columns."""
    profile, random = usual_profile("sport"), np.random.default_rng(5)
    time = np.arange(0.0, HOUR, 1.0 / RATE)
    ends = np.cumsum(profile.duration)
    row = np.minimum(np.searchsorted(ends, time % ends[-1], side="right"), len(ends) - 1)
    load = -profile.gravity[row] / 9.80665 + 0.1 * random.normal(size=(len(time), 3))
    columns = [time, 100 * profile.throttle[row], -load[:, 0], load[:, 1], load[:, 2]]
    columns.append(profile.airspeed[row])
    path = tmp_path_factory.mktemp("hour") / "hour.csv"
    names = "time [s],throttle [%],felt forward,felt starboard,felt up,airspeed"
    np.savetxt(path, np.column_stack(columns), "%.4f", ",", header=names, comments="")
    return path


def test_an_hour_is_read(benchmark, hour):
    """180 000 rows of six columns."""
    assert len(benchmark(read_file, hour).time) == HOUR * RATE


def test_an_hour_with_empty_cells_is_read(benchmark, hour, tmp_path):
    """The same with every third cell empty, as slow sensors leave them."""
    first, *rows = hour.read_text().splitlines()
    thinned = [
        ",".join(cell if (n + k) % 3 or k == 0 else "" for k, cell in enumerate(row.split(",")))
        for n, row in enumerate(rows)
    ]
    path = tmp_path / "thin.csv"
    path.write_text("\n".join([first, *thinned]))
    assert benchmark(read_file, path).bridged > 100_000


def test_an_hour_is_compressed(benchmark, hour):
    """To a few thousand stretches."""
    layout, recording = read(starter("single-main")), read_file(hour)
    assert len(benchmark(profile_of_recording, layout, recording, "hour").duration) < 10_000


def test_an_hour_is_flown(benchmark, hour):
    """Until the fuel is burnt."""
    layout = read(starter("single-main"))
    profile, net = profile_of_recording(layout, read_file(hour), "hour"), survey(layout)
    benchmark.pedantic(fly, (layout, net, profile), rounds=2)
