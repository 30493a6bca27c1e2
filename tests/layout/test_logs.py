"""Recorded flights read from CSV: what is right is read, what is wrong is a fault in its place."""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plumbing.errors import LayoutError
from plumbing.layout.logs import lines, read_file, read_log
from plumbing.model.flight import Columns, Log

GOOD = b"time [s],throttle [%]\n0,10\n1,20\n2,30\n"


def write(tmp_path, content):
    """A CSV file of that content."""
    path = tmp_path / "flight.csv"
    path.write_bytes(content)
    return path


def faults_of(tmp_path, content, log=None):
    """Faults of a file of that content."""
    with pytest.raises(LayoutError) as caught:
        read_file(write(tmp_path, content), log)
    return caught.value.faults


def only_fault(tmp_path, content, log=None):
    """The one fault of a file of that content."""
    faults = faults_of(tmp_path, content, log)
    assert len(faults) == 1, faults
    return faults[0]


def test_columns_are_read(tmp_path):
    """Rows become arrays, percent a share."""
    found = read_file(write(tmp_path, GOOD))
    np.testing.assert_allclose(found.time, [0, 1, 2])
    np.testing.assert_allclose(found.throttle, [0.1, 0.2, 0.3])
    assert found.flow is None
    assert found.length == 2.0


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_delimiters_and_line_ends(tmp_path, delimiter, end, mark):
    """Comma, semicolon and tab, any line end, with and without a byte-order mark."""
    rows = [["time", "thr"], ["0", "0.5"], ["1", "0.25"], [""]]
    text = end.join(delimiter.join(row) for row in rows)
    found = read_file(write(tmp_path, mark + text.encode()))
    np.testing.assert_allclose(found.throttle, [0.5, 0.25])


@pytest.mark.outside("definitions of the units; 1 g = 9.80665 m/s2 (CGPM 1901)", quantity="units")
@pytest.mark.parametrize(
    ("title", "field", "written", "expected"),
    [
        ("time [ms]", "time", 1500, 1.5),
        ("time [s]", "time", 1.5, 1.5),
        ("fuel flow [ml/min]", "flow", 600, 1e-5),
        ("fuel flow [L/h]", "flow", 36, 1e-5),
        ("flow", "flow", 600, 1e-5),
        ("pitch [deg]", "pitch", 180, math.pi),
        ("pitch", "pitch", 90, math.pi / 2),
        ("Roll (rad)", "roll", 1.25, 1.25),
        ("airspeed [km/h]", "airspeed", 36, 10),
        ("airspeed [m/s]", "airspeed", 12, 12),
        ("height [m]", "height", 7, 7),
        ("felt_up [m/s2]", "felt", 9.80665, 1),
        ("felt-up [g]", "felt", 3, 3),
        ("throttle [%]", "throttle", 40, 0.4),
    ],
)
def test_units(tmp_path, title, field, written, expected):
    """The unit in brackets counts, the usual one where there is none."""
    other = "time" if field != "time" else "throttle"
    helper = "" if field in {"flow", "throttle", "time"} else ",thr"
    extra = "" if not helper else ",0.5"
    first = {"time": "0"}.get(field, written)
    content = f"{title},{other}{helper}\n{first},0{extra}\n{written},1{extra}\n"
    found = read_file(write(tmp_path, content.encode()), Log(file="", longest_gap=1e4))
    values = getattr(found, field)
    value = values[-1, 2] if field == "felt" else values[-1]
    assert value == pytest.approx(expected, rel=1e-12)


def test_stated_columns(tmp_path):
    """A stated column is used, also where a usual name is there as well; its unit may be stated."""
    columns = Columns(time="clock [ms]", throttle="out 3")
    content = b"clock,throttle,Out 3\n0,1,0.5\n500,1,0.5\n"
    found = read_file(write(tmp_path, content), Log(file="", columns=columns))
    assert found.time[-1] == 0.5
    assert found.throttle[0] == 0.5


def test_other_columns_may_hold_anything(tmp_path):
    """Columns that are not used may hold text, also with the delimiter in quotes."""
    content = b'time,note,thr\n0,"a, b",1\n1,,1\n2,"say ""so""",0\n'
    np.testing.assert_allclose(read_file(write(tmp_path, content)).throttle, [1, 1, 0])


def test_decimal_comma(tmp_path):
    """A decimal comma is a number where the delimiter is another."""
    found = read_file(write(tmp_path, b"time;thr\n0,0;0,5\n0,5;1\n"))
    np.testing.assert_allclose(found.throttle, [0.5, 1.0])
    np.testing.assert_allclose(found.time, [0.0, 0.5])


def test_throttle_without_a_unit(tmp_path):
    """A throttle that goes beyond 1 for long is in percent; one that does not is a share."""
    percent = read_file(write(tmp_path, b"time,thr\n0,0\n1,100\n"))
    share = read_file(write(tmp_path, b"time,thr\n0,0\n1,1\n"))
    np.testing.assert_allclose(percent.throttle, share.throttle)


@pytest.mark.parametrize("empty", ["", "nan", "NaN", "inf", "-inf", "1e999", "--", "null"])
def test_short_gaps_are_bridged(tmp_path, empty):
    """An empty cell, or one that is no finite number, takes the last value, and is counted."""
    content = f"time,thr\n0,{empty}\n1,0.5\n2,{empty}\n3,1\n".encode()
    found = read_file(write(tmp_path, content))
    np.testing.assert_allclose(found.throttle, [0.5, 0.5, 0.5, 1])
    assert found.bridged == 2
    assert any("2 times" in one.value for one in found.assumed)


def test_a_cut_off_last_line_is_left_out(tmp_path):
    """A recorder that is switched off leaves half a line, which is left out and told."""
    found = read_file(write(tmp_path, b"time,x,thr\n0,1,1\n1,1,1\n2,1"))
    assert len(found.time) == 2
    assert any("cut off" in one.what for one in found.assumed)


@pytest.mark.parametrize(
    ("content", "line", "column", "found", "expected"),
    [
        (b"", 1, 1, "an empty file", "column names"),
        (b"\n  \n", 1, 1, "an empty file", "column names"),
        (b"0,1\n1,2\n", 1, 1, "numbers `0,1`", "column names"),
        (b"thr\n1\n", 1, 1, "no column `time`", "`thr`"),
        (b"time,x\n0,1\n1,1\n", 1, 1, "no column for `throttle` or `flow`", "`time`, `x`"),
        (b"time,thr,thr\n0,1,1\n1,1,1\n", 1, 6, "column `thr` twice", "once"),
        (b"time,flow [kg]\n0,1\n1,1\n", 1, 6, "unit `kg`", "`ml/min`"),
        (b"time,thr\n", 1, 1, "no row with a time", "two rows"),
        (b"time,thr\n0,1\n", 2, 1, "one row of numbers", "two rows"),
        (b"time,thr\n0,1\n1,full\n2,1\n", 3, 3, "`full` in column `thr`", "a number"),
        (b"time,thr\n0,1\n1,1_0\n2,1\n", 3, 3, "`1_0` in column `thr`", "a number"),
        (b"time,thr\n0,1\n1\n2,1\n", 3, 1, "1 cells", "2 cells"),
        (b"time,thr\n0,1\n1,2,3\n2,1\n", 3, 1, "3 cells", "2 cells"),
        (b"time,thr\n0,1\n2,1\n1,1\n", 4, 1, "1 s in `time` after 2 s", "rises"),
        (b"time,thr\n0,1\n1,1\n1,1\n", 4, 1, "1 s in `time` after 1 s", "rises"),
        (b"time,thr\n0,1\n9,1\n10,1\n", 3, 1, "between lines 2 and 3", "at most 2 s"),
        (b"time,thr\n0,1\n1,\n2,\n3,\n4,1\n", 3, 3, "lines 3 to 5", "at most 2 s"),
        (b"time,flow\n0,1\n1,-1\n", 3, 3, "-1 in `flow`", "0 ml/min"),
        (b"time,flow\n0,1\n1,1e9\n", 3, 3, "1e+09 in `flow`", "ml/min"),
        (b"time,thr,felt up\n0,1,1\n1,1,51\n", 3, 5, "51 in `felt up`", "-50 g to 50 g"),
        (b"time,thr [%]\n0,1\n1,104\n", 3, 3, "104 in `thr [%]`", "0 to 100"),
        (b"time,thr [%]\n0,1\n1,-4\n", 3, 3, "-4 in `thr [%]`", "0 to 100"),
        (b"time,thr\n0,1500\n1,1500\n2,1\n", 2, 3, "1500 in `thr`", "0 to 100"),
        (b"time,thr,airspeed\n0,1,1\n1,1,999\n", 3, 5, "999 in `airspeed`", "m/s"),
        (b"time,thr,pitch\n0,1,1\n1,1,999\n", 3, 5, "999 in `pitch`", "deg"),
        (b"time,thr\n0,\n1,\n", 1, 6, "no number in column `thr`", "numbers"),
        (b"time,thr\n0,1\n1,\xb0\n", 3, 3, "a byte 0xb0", "UTF-8"),
        (b"time,thr\n0,1\n1,\x00\n", 3, 3, "a zero byte", "text, not binary"),
        ("time,thr\n0,1\n".encode("utf-16"), 1, 1, "UTF-16", "UTF-8"),
        (b"time,thr\n0," + b"1" * 20_000 + b"\n", 2, 1, "a line of 20002 characters", "at most"),
        (b"x" * 10_000_000, 1, 1, "a line of 10000000 characters", "at most"),
    ],
)
def test_faults(tmp_path, content, line, column, found, expected):
    """Every fault has its line and column, what was found and what was expected."""
    fault = next(f for f in faults_of(tmp_path, content) if found in f.found)
    assert fault.place.file == str(tmp_path / "flight.csv")
    assert (fault.place.line, fault.place.column) == (line, column)
    assert expected in fault.expected


def test_column_of_a_fault(tmp_path):
    """A fault in a cell points at the first character of the cell, behind quoted delimiters."""
    fault = only_fault(tmp_path, b'time,note,thr\n0,"a,b",one\n1,,1\n2,,1\n')
    assert (fault.place.line, fault.place.column) == (2, 9)


def test_a_day_in_milliseconds_read_as_seconds(tmp_path):
    """Times that last longer than a day are a fault that says how milliseconds are named."""
    log = Log(file="", longest_gap=1e6)
    fault = only_fault(tmp_path, b"time,thr\n0,1\n100000,1\n", log)
    assert "time [ms]" in fault.expected


def test_many_faults_are_summed_up(tmp_path):
    """Of many faults of one sort the first few are told, the others counted."""
    rows = b"".join(b"%d,word\n" % n for n in range(1000))
    faults = faults_of(tmp_path, b"time,thr\n" + rows)
    told = [fault for fault in faults if "`word`" in fault.found]
    assert len(told) == 5
    assert any("995 more" in fault.found for fault in faults)


def test_all_faults_together(tmp_path):
    """Faults of several sorts are reported together, in the order of their lines."""
    faults = faults_of(tmp_path, b"time,thr,felt up\n0,1,1\n1,2,x\n9,1,99\n8,50,1\n")
    assert [fault.place.line for fault in faults] == sorted(f.place.line for f in faults)
    assert len(faults) >= 4


@pytest.mark.parametrize("name", ["../a.csv", "/a.csv", "C:\\a.csv", "a.txt", "none.csv"])
def test_paths_out_of_the_folder(tmp_path, name):
    """A log that a layout names lies below its folder and ends in .csv."""
    with pytest.raises(LayoutError):
        read_log(Log(file=name), str(tmp_path))


def test_log_of_a_layout(tmp_path):
    """A log that a layout names is read below its folder."""
    write(tmp_path, GOOD)
    assert read_log(Log(file="flight.csv"), str(tmp_path)).throttle[0] == pytest.approx(0.1)


def test_a_file_that_is_not_there(tmp_path):
    """A path that cannot be read is a fault."""
    for path in (tmp_path / "none.csv", tmp_path, "a\x00b"):
        with pytest.raises(LayoutError, match="cannot be read"):
            read_file(path)


def test_too_large(tmp_path, monkeypatch):
    """A file beyond the bound is not read."""
    monkeypatch.setattr(lines, "MOST_BYTES", 10)
    assert "MB" in only_fault(tmp_path, GOOD).found


_CELL = st.one_of(
    st.floats().map(repr),
    st.integers(-5, 200).map(str),
    st.sampled_from(["", " ", '"', "x", "1,5", "1_0", "-", "١", "nan", ";", "\t", "\x0b", "é"]),
)
_ROWS = st.lists(st.lists(_CELL, min_size=1, max_size=4), max_size=8)


def read_or_refused(path):
    """What was read, or the faults."""
    try:
        return read_file(path), ()
    except LayoutError as refused:
        return None, refused.faults


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(rows=_ROWS, delimiter=st.sampled_from(",;\t"), tail=st.binary(max_size=6))
def test_any_file_is_read_or_refused(tmp_path, rows, delimiter, tail):
    """Whatever a file holds, it becomes finite numbers in rising time, or faults with places."""
    text = "\n".join(delimiter.join(row) for row in [["time", "throttle", "felt up"], *rows])
    found, faults = read_or_refused(write(tmp_path, text.encode() + tail))
    assert all(fault.place.line >= 1 and fault.place.column >= 1 for fault in faults)
    assert bool(faults) == (found is None)
    if found is None:
        return
    assert np.isfinite(found.time).all()
    assert (np.diff(found.time) > 0).all()
    assert ((found.throttle >= 0) & (found.throttle <= 1)).all()
    assert found.felt is None or np.isfinite(found.felt).all()


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(content=st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(tmp_path, content):
    """Bytes of any sort never end in anything but a recording or faults."""
    found, faults = read_or_refused(write(tmp_path, content))
    assert bool(faults) == (found is None)


@pytest.mark.parametrize("end", [b"\n", b"\r"])
def test_too_many_lines(tmp_path, monkeypatch, end):
    """A file of line ends is refused before each line takes memory of its own."""
    monkeypatch.setattr(lines, "MOST_LINES", 100)
    assert "more than 100 lines" in only_fault(tmp_path, (b"1" + end) * 101).found
    assert "more than" not in only_fault(tmp_path, (b"1" + end) * 100).found
