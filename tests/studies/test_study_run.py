"""Studies run: the same table anywhere, and nothing lost or doubled by an interruption."""

import csv
import json
import multiprocessing
import signal
import subprocess
import sys
import time

import pytest
from click.testing import CliRunner
from study_samples import planned, written

from plumbing import api
from plumbing.checks.counted import counted
from plumbing.cli import main
from plumbing.errors import SolveError, UsageError
from plumbing.studies.study.journal import Journal
from plumbing.studies.study.one import Row, row_of

CASES = 12


@pytest.fixture(scope="module")
def alone(tmp_path_factory):
    """The table made by one process without interruption."""
    folder = tmp_path_factory.mktemp("alone")
    api.study(written(folder), folder / "t.csv", workers=1)
    return (folder / "t.csv").read_bytes()


def test_table_has_every_case_once(alone):
    """The table has a row a case, in order, and every result that there is."""
    rows = list(csv.DictReader(alone.decode().splitlines()))
    assert [int(row["case"]) for row in rows] == list(range(1, CASES + 1))
    assert all(float(row["suction [Pa]"]) > 0.0 for row in rows)
    assert {row["cg-aft [m]"] for row in rows} == {""}, "no dry mass, so there is no CG"
    assert {row["fault"] for row in rows} == {""}


def test_wider_tube_sucks_less(alone):
    """At the same sample the wider tube has the smaller suction: a limit by hand."""
    rows = list(csv.DictReader(alone.decode().splitlines()))
    for narrow, wide in zip(rows[:6], rows[6:], strict=True):
        assert narrow["fuel.temperature.usual [degC]"] == wide["fuel.temperature.usual [degC]"]
        assert float(wide["suction [Pa]"]) < float(narrow["suction [Pa]"])


def test_case_is_what_the_front_door_says(tmp_path, alone):
    """A row has the values that loading and flying the same layout by hand gives."""
    row = next(csv.DictReader(alone.decode().splitlines()))
    text = (written(tmp_path).parent / "small.yaml").read_text()
    own = text.replace(
        "    shape:", f"    fill: {row['tanks.main.fill [%]']} %\n    shape:"
    ).replace(
        "tanks:",
        f"fuel: {{temperature: {{usual: {row['fuel.temperature.usual [degC]']} degC}}}}\ntanks:",
    )
    (tmp_path / "own.yaml").write_text(own)
    flown = api.fly(tmp_path / "own.yaml")
    assert float(row["endurance [s]"]) == flown.endurance
    assert float(row["usable [m3]"]) == flown.usable


def test_two_processes_give_the_same_bytes(tmp_path, alone):
    """Two processes write the table that one writes, bit for bit."""
    api.study(written(tmp_path), tmp_path / "t.csv", workers=2)
    assert (tmp_path / "t.csv").read_bytes() == alone
    assert not (tmp_path / "t.csv.rows").exists()


def test_killed_study_goes_on_where_it_was(tmp_path, alone):
    """A study killed on the way, its last row cut short, computes only the rows that miss."""
    path, rows = written(tmp_path), tmp_path / "t.csv.rows"
    call = [sys.executable, "-m", "plumbing", "study", str(path), "-o", str(tmp_path / "t.csv")]
    running = subprocess.Popen([*call, "--workers", "1"])
    while not (rows.exists() and rows.read_bytes().count(b"\n") > 3):
        time.sleep(0.01)
        assert running.poll() is None
    running.send_signal(signal.SIGKILL)
    running.wait()
    assert not (tmp_path / "t.csv").exists()
    kept = rows.read_bytes().count(b"\n") - 1
    with rows.open("ab") as stream:
        stream.write(b'[12, ["polyur')
    counts = []
    api.study(path, tmp_path / "t.csv", 1, None, lambda done, _: counts.append(done))
    assert counts[0] == kept
    assert counts[-1] == CASES
    assert (tmp_path / "t.csv").read_bytes() == alone


def test_lost_process_loses_no_row(tmp_path, alone):
    """When a process of the study is ended from outside, what was finished is gone on from."""
    path = written(tmp_path)

    def progress(done, _):
        if done:
            for child in multiprocessing.active_children():
                child.kill()

    with pytest.raises(SolveError, match="call again"):
        api.study(path, tmp_path / "t.csv", 2, None, progress)
    assert not (tmp_path / "t.csv").exists()
    api.study(path, tmp_path / "t.csv", 1)
    assert (tmp_path / "t.csv").read_bytes() == alone


def test_rows_of_another_study_are_refused(tmp_path):
    """Rows kept by a study are not taken for those of a changed one."""
    Journal(tmp_path / "t.csv", "other").add([])
    with pytest.raises(UsageError, match="another study"):
        api.study(written(tmp_path), tmp_path / "t.csv", workers=1)


def test_row_kept_twice_counts_once(tmp_path):
    """A row that stands in the journal twice is one row."""
    journal = Journal(tmp_path / "t.csv", "this")
    row = Row(3, ("a", 0.1), (1e-300, None), "")
    journal.add([row])
    journal.add([row])
    assert journal.read() == {3: row}


def test_impossible_variant_is_a_row_with_its_fault(tmp_path):
    """A variant that is no layout does not stop the study: its row says why."""
    plan = planned(tmp_path, ("polyurethane 8x5", "polyurethane 9x9"))
    bad = row_of(plan, 7, counted)
    assert "polyurethane 9x9" in bad.fault
    assert set(bad.results) == {None}
    assert row_of(plan, 1, counted).fault == ""


def test_findings_can_be_counted(tmp_path):
    """The counts of a row are those of the check."""
    plan = planned(tmp_path, ("[suction, endurance, usable, stranded, flame-out, cg-aft]",
                              "[findings, unsafe, faults, advice]"))  # fmt: skip
    row = row_of(plan, 1, counted)
    assert row.results[0] == sum(row.results[1:]) > 0


def test_parquet_has_the_same_values(tmp_path, alone):
    """The Parquet table reads back as the CSV does."""
    from pyarrow import parquet

    api.study(written(tmp_path), tmp_path / "t.parquet", workers=1)
    read = parquet.read_table(tmp_path / "t.parquet").to_pylist()
    for row, other in zip(csv.DictReader(alone.decode().splitlines()), read, strict=True):
        assert list(row) == list(other)
        assert float(row["suction [Pa]"]) == other["suction [Pa]"]
        assert row["lines.feed.tube"] == other["lines.feed.tube"]
        assert other["cg-aft [m]"] is None


def test_other_endings_are_refused_before_anything_is_computed(tmp_path):
    """A table that cannot be written is refused at once."""
    with pytest.raises(UsageError, match=r"\.csv or \.parquet"):
        api.study(written(tmp_path), tmp_path / "t.xls", workers=1)


def _dask(kind, *arguments):
    return subprocess.Popen(
        [sys.executable, "-m", f"distributed.cli.dask_{kind}", "--no-dashboard", *arguments],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


@pytest.fixture
def cluster(tmp_path):
    """A scheduler and two workers, each a process of its own on loopback."""
    file = tmp_path / "scheduler.json"
    running = [_dask("scheduler", "--host", "127.0.0.1", "--port", "0",
                     "--scheduler-file", str(file))]  # fmt: skip
    for _ in range(600):
        if file.exists() and file.read_bytes().strip():
            break
        time.sleep(0.05)
    for number in (1, 2):
        running.append(
            _dask("worker", "--scheduler-file", str(file), "--nthreads", "1", "--no-nanny",
                  "--local-directory", str(tmp_path / f"worker{number}"))
        )  # fmt: skip
    yield json.loads(file.read_text())["address"], running[1:]
    for one in running:
        one.kill()
        one.wait()


def test_cluster_loses_nothing_with_a_worker(tmp_path, alone, cluster):
    """A cluster of which a worker is killed on the way writes the same bytes as one process."""
    address, (first, _) = cluster
    told = []

    def progress(done, _):
        told.append(done)
        if done >= 3 and first.poll() is None:
            first.kill()

    api.study(written(tmp_path), tmp_path / "t.csv", None, address, progress)
    assert first.wait() == -signal.SIGKILL
    assert told == sorted(set(told)), "a row was counted twice"
    assert (tmp_path / "t.csv").read_bytes() == alone


def test_scheduler_that_is_not_there_is_said(tmp_path, monkeypatch):
    """An address at which nobody answers is refused in words."""
    monkeypatch.setattr("plumbing.studies.study.workers._PATIENCE", "1s")
    with pytest.raises(UsageError, match="no scheduler answers"):
        api.study(written(tmp_path), tmp_path / "t.csv", None, "tcp://127.0.0.1:9")


def test_command_writes_the_table(tmp_path, alone):
    """The command writes the same table, says so, and ends with 0; with 2 for a study at fault."""
    path = written(tmp_path)
    call = ["study", str(path), "-o", str(tmp_path / "t.csv"), "--workers", "1"]
    done = CliRunner().invoke(main, call)
    assert done.exit_code == 0, done.output
    assert "12 cases" in done.output
    assert (tmp_path / "t.csv").read_bytes() == alone
    path.write_text("study: 1\n")
    done = CliRunner().invoke(main, call)
    assert done.exit_code == 2
    assert "a study without `layout`" in done.output
