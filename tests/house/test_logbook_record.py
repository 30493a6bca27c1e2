"""The logbook on the disk: two writers, a full disk, a killed writer lose nothing."""

import json
import multiprocessing
import os
import random
import resource
import shutil
import signal
import time

import jsonschema
import pytest
from click.testing import CliRunner

from plumbing import api
from plumbing.cli import main
from plumbing.errors import LayoutError, UsageError

FORK = multiprocessing.get_context("fork")


@pytest.fixture
def file(root, tmp_path):
    """A layout file in a folder of its own."""
    return shutil.copy(root / "layouts/single-main.yaml", tmp_path / "mine.yaml")


@pytest.fixture
def book(file):
    """Path of its logbook, which is not there yet."""
    return type(file)(file).with_name("mine.logbook.csv")


def call(*words):
    """Call the command line."""
    return CliRunner().invoke(main, ["logbook", *map(str, words)])


def put(layout, writer, count):
    """Put rows, each with the name of its writer and its number."""
    for number in range(count):
        api.log(layout, {"kind": "run", "remarks": f"{writer} {number}"})


def test_two_writers_at_once_lose_nothing(file, book):
    """Three processes put eight rows each: all twenty-four are there, each once, each whole."""
    layout = api.load(file)
    writers = [FORK.Process(target=put, args=(layout, name, 8)) for name in "abc"]
    for one in writers:
        one.start()
    for one in writers:
        one.join(60)
        assert one.exitcode == 0
    rows = [one.remarks for one in api.logbook(layout).entries]
    assert sorted(rows) == sorted(f"{name} {number}" for name in "abc" for number in range(8))
    assert [one.name for one in book.parent.iterdir() if one.name[0] == "."] == []


def killed(layout, book, times, dice):
    """Kill a writer so often at a random moment; how often it was not done yet."""
    api.log(layout, {"kind": "run", "remarks": "first"})
    start = time.monotonic()
    api.log(layout, {"kind": "run", "remarks": "second"})
    lasts, early = time.monotonic() - start, 0
    for number in range(times):
        before = book.read_bytes()
        child = os.fork()
        if not child:
            api.log(layout, {"kind": "run", "remarks": f"turn {number}"})
            os._exit(0)
        time.sleep(1.5 * lasts * dice.random())
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        after = book.read_bytes()
        assert after.startswith(before), "a row that was there is gone"
        new = after[len(before) :].decode().split(",")
        assert new == [""] or (new[1] == "run" and new[-1] == f"turn {number}\n"), "half a row"
        early += new == [""]
    return early


def test_a_killed_writer_leaves_the_rows(file, book):
    """Twelve kills: every row of before stays, the new one is there whole or not at all."""
    early = killed(api.load(file), book, 12, random.Random(17))
    assert early > 0, "none was killed in time"
    api.log(file, {"kind": "run", "remarks": "after"})
    assert api.logbook(file).entries[-1].remarks == "after"
    assert {one.name for one in book.parent.iterdir()} == {"mine.yaml", "mine.logbook.csv"}


@pytest.mark.evening
def test_a_writer_killed_two_hundred_times_leaves_the_rows(file, book):
    """Two hundred kills at random moments."""
    assert killed(api.load(file), book, 200, random.Random(200)) > 20


def test_a_full_disk_leaves_the_rows(file, book):
    """No byte more may be written: the file is as before, and the message says why."""
    api.log(file, {"kind": "run"})
    before, limits = book.read_bytes(), resource.getrlimit(resource.RLIMIT_FSIZE)
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (len(before), limits[1]))
    try:
        with pytest.raises(UsageError, match="cannot write"):
            api.log(file, {"kind": "run"})
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
    assert book.read_bytes() == before
    assert {one.name for one in book.parent.iterdir()} == {"mine.yaml", "mine.logbook.csv"}


def test_a_folder_that_takes_nothing_is_told(file, book):
    """A folder of that name, and a pipe: in words, and nothing waits for ever."""
    book.mkdir()
    with pytest.raises(UsageError, match="not a file"):
        api.log(file, {"kind": "run"})
    book.rmdir()
    os.mkfifo(book)
    with pytest.raises(UsageError, match="not a file"):
        api.log(file, {"kind": "run"})


def test_a_refused_row_leaves_no_file(file, book):
    """A logbook begins with its first good row."""
    with pytest.raises(LayoutError):
        api.log(file, {"kind": "run", "filled": "2"})
    assert not book.exists()


def test_a_row_of_a_day_to_come_is_refused(file, book):
    """A slip in the year would make every job overdue."""
    with pytest.raises(LayoutError, match="to come"):
        api.log(file, {"kind": "run", "date": "2926-05-01"})
    assert not book.exists()


def test_a_formula_is_no_formula_to_a_spreadsheet(file, book):
    """It bears an apostrophe in the file and comes back as it was."""
    api.log(file, {"kind": "run", "remarks": "=1+1"})
    assert ",'=1+1\n" in book.read_text()
    assert api.logbook(file).entries[0].remarks == "=1+1"


def test_the_command_writes_and_tells(file, book):
    """A form, rows, what follows, as text and as JSON by its schema; 2 for faults, all told."""
    form = book.with_name("form.csv")
    assert call(file, "--write-form", form).exit_code == 0
    assert form.read_text().startswith("date,kind,part,filled,left,")
    for day, fuel in ((1, "1.50 L"), (2, "1.55 L"), (3, "1.45 L")):
        row = ["--date", f"2026-05-0{day}", "--filled", fuel, "--left", "0 L", "--time", "8 min"]
        read = ["--volts", "4.1 V", "--header-air", "2 ml"]
        done = call(file, "--add", "flight", *row, *read)
        assert done.exit_code == 0, done.output
    assert f"Wrote line 4 of {book}" in done.output
    told = call(file, "--date", "2026-05-04")
    assert "of 3 flights" in told.output
    data = json.loads(call(file, "--date", "2026-05-04", "--format", "json").output)
    jsonschema.validate(data, api.schema("logbook"))
    assert data["burn"]["flow"]["value"] == pytest.approx(1.5e-3 / 480)
    wrong = call(file, "--add", "flight", "--filled", "2", "--time", "9")
    assert wrong.exit_code == 2
    assert wrong.output.count("without a unit") == 2
    assert call(file, "--filled", "2 L").exit_code == 2
    plot = book.with_name("plot.svg")
    assert call(file, "--date", "2026-05-04", "-o", plot).exit_code in (0, 1)
    assert "Mean flow of each flight" in plot.read_text()


def test_without_a_logbook_it_says_how_to_begin(file):
    """Exit code 0, and JSON of the same form."""
    told = call(file)
    assert told.exit_code == 0
    assert "--add flight" in told.output
    data = json.loads(call(file, "--format", "json").output)
    jsonschema.validate(data, api.schema("logbook"))
    assert "logbook" in data["not_computed"]


def test_a_damaged_logbook_is_left_as_it_is(file, book):
    """Exit code 2 for reading, writing and reporting, the line told, no byte changed."""
    damaged = b"date,kind\n2026-05-01,flight\n2026-05-02,fl"
    book.write_bytes(damaged)
    report = ["report", str(file), "-o", str(book.with_name("page.html"))]
    for done in (call(file), call(file, "--add", "run"), CliRunner().invoke(main, report)):
        assert done.exit_code == 2
        assert "mine.logbook.csv:3:" in done.output
    assert book.read_bytes() == damaged


def test_no_result_is_written_over_a_logbook(file, book):
    """It is an input of every command, also by force."""
    api.log(file, {"kind": "run"})
    before = book.read_bytes()
    done = CliRunner().invoke(main, ["schedule", str(file), "--what", "lines", "-o", str(book)])
    forced = CliRunner().invoke(
        main, ["schedule", str(file), "--what", "lines", "-o", str(book), "--force"]
    )
    assert done.exit_code == forced.exit_code == 2
    assert book.read_bytes() == before


def test_page_and_front_have_the_logbook(file, book):
    """Tables, curves, and on the front what is beyond a limit."""
    for day in (1, 2, 3):
        row = {"kind": "flight", "filled": "1.5 L", "left": "0 L", "time": "3 min"}
        api.log(file, {**row, "date": f"2026-05-0{day}"})
    page = api.report(file, date="4 May 2026").decode()
    assert "Timer and reserve as flown" in page
    assert "Mean flow of each flight" in page
    assert "logbook: With the timer at" in page
    assert "Due, as of 2026-05-04" in page
