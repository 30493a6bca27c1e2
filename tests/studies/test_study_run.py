"""Studies run: the same table anywhere, and nothing lost or doubled by an interruption."""

import csv
import json
import multiprocessing
import random
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from study_samples import LAYOUT, changed, planned, written

from plumbing import api
from plumbing.checks.counted import counted
from plumbing.cli import main
from plumbing.errors import SolveError, UsageError
from plumbing.studies.study import digest_of, load_study, plan_of
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


@pytest.mark.slow
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
    """Rows kept by a study are not taken for those of a changed one, and stay."""
    path = written(tmp_path)
    kept(tmp_path, path)
    before = (tmp_path / "t.csv.rows").read_bytes()
    path.write_text(path.read_text().replace("samples: 6", "samples: 7"))
    with pytest.raises(UsageError, match="another study"):
        api.study(path, tmp_path / "t.csv", workers=1)
    assert (tmp_path / "t.csv.rows").read_bytes() == before


def kept(folder, path, count=3):
    """Stop a study after some rows, so that they are kept."""

    def progress(done, _):
        if done >= count:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        api.study(path, folder / "t.csv", 1, None, progress)


def test_rows_from_changed_files_are_refused(tmp_path):
    """A recorded flight that a layout names is part of the study: rows from another are refused."""
    head, log = "time [s],flow [ml/min]\n", tmp_path / "hop.csv"
    log.write_text(head + "0,200\n60,100\n")
    layout = LAYOUT[: LAYOUT.index("flights:")] + "flights: {hop: {log: {file: hop.csv}}}\n"
    path = written(tmp_path, layout=layout)
    before = digest_of(plan_of(load_study(path)))
    assert before == digest_of(plan_of(load_study(path)))
    log.write_text(head + "0,200\n60,110\n")
    assert before != digest_of(plan_of(load_study(path)))


def test_file_that_is_no_journal_is_left_alone(tmp_path):
    """What stands where rows are kept, but is none of ours, is refused and not touched."""
    mine = tmp_path / "t.csv.rows"
    mine.write_bytes(b"my own notes")
    with pytest.raises(UsageError, match="remove the file"):
        api.study(written(tmp_path), tmp_path / "t.csv", workers=1)
    assert mine.read_bytes() == b"my own notes"


def test_row_kept_twice_counts_once(tmp_path):
    """A row that stands in the journal twice is one row, and rows come back by number."""
    plan = planned(tmp_path)
    row = Row(3, plan.case(3).values, (1e-300, None), "")
    other = Row(1, plan.case(1).values, (2,), "no")
    with Journal(tmp_path / "t.csv", "this", plan) as journal:
        journal.add([row, row])
        journal.add([other])
    line = (tmp_path / "t.csv.rows").read_bytes().splitlines(keepends=True)[1]
    with (tmp_path / "t.csv.rows").open("ab") as stream:
        stream.write(line + b"not a row\n" + line[:5])
    with Journal(tmp_path / "t.csv", "this", plan) as journal:
        assert (journal.done, journal.faulty, journal.reasons) == (2, 1, {other.fault: 1})
        assert list(journal.missing()) == [2, *range(4, CASES + 1)]
        journal.add([Row(n, plan.case(n).values, (1.5,), "\ud800") for n in journal.missing()])
        assert [one.number for one in journal.rows()] == list(range(1, CASES + 1))
        assert list(journal.rows())[2] == row


def test_second_study_into_the_same_table_is_refused(tmp_path, alone):
    """While a study writes a table, another into the same one is refused and does no harm."""
    path, told = written(tmp_path), []

    def progress(done, _):
        if not told:
            call = [sys.executable, "-m", "plumbing", "study", str(path), "-o"]
            call += [str(tmp_path / "t.csv"), "--workers", "1"]
            told.append(subprocess.run(call, capture_output=True, text=True, check=False))

    api.study(path, tmp_path / "t.csv", 1, None, progress)
    assert told[0].returncode == 2
    assert "another study is writing" in told[0].stderr
    assert (tmp_path / "t.csv").read_bytes() == alone


def children_of(pid):
    """Processes whose parent is that one."""
    found = subprocess.run(["ps", "-o", "pid=", "--ppid", str(pid)], capture_output=True, text=True)
    return [int(one) for one in found.stdout.split()]


def alive(pid):
    """Whether a process runs, and is not only waiting to be buried."""
    status = Path(f"/proc/{pid}/stat")
    try:
        return status.read_text().rpartition(") ")[2][0] != "Z"
    except FileNotFoundError:
        return False


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")
@pytest.mark.parametrize(
    ("sign", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, -15), (signal.SIGKILL, -9)]
)
def test_interrupted_study_leaves_no_process(tmp_path, alone, sign, code):
    """Ctrl-C and kill end the workers too, at once; called again the study finishes."""
    path, rows = written(tmp_path), tmp_path / "t.csv.rows"
    call = [sys.executable, "-m", "plumbing", "study", str(path), "-o", str(tmp_path / "t.csv")]
    running = subprocess.Popen([*call, "--workers", "2"], stderr=subprocess.PIPE, text=True)
    while not (rows.exists() and rows.read_bytes().count(b"\n") > 1):
        time.sleep(0.01)
        assert running.poll() is None
    workers = children_of(running.pid)
    running.send_signal(sign)
    said = running.communicate(timeout=20)[1]
    assert running.returncode == code
    assert "Traceback" not in said
    if sign == signal.SIGINT:
        assert "call again to go on" in said
    until = time.monotonic() + 10.0
    while any(map(alive, workers)) and time.monotonic() < until:
        time.sleep(0.05)
    assert len(workers) >= 2
    assert not any(map(alive, workers))
    api.study(path, tmp_path / "t.csv", 1)
    assert (tmp_path / "t.csv").read_bytes() == alone


FULL = """
import resource, signal, sys
from plumbing.cli import main
resource.setrlimit(resource.RLIMIT_FSIZE, (600, 600))
main(["study", sys.argv[1], "-o", sys.argv[2], "--workers", sys.argv[3]])
"""


@pytest.mark.slow
@pytest.mark.parametrize("workers", ["1", "2"])
def test_full_disk_is_said_and_gone_on_from(tmp_path, alone, workers):
    """Where rows cannot be kept the study stops in words; with room again it goes on."""
    path, table = written(tmp_path), str(tmp_path / "t.csv")
    call = [sys.executable, "-c", FULL, str(path), table, workers]
    done = subprocess.run(call, capture_output=True, text=True, check=False, timeout=120)
    assert done.returncode == 2
    assert "cannot keep rows" in done.stderr
    assert "Traceback" not in done.stderr
    counts = []
    api.study(path, table, 1, None, lambda done, _: counts.append(done))
    assert 0 < counts[0] < CASES
    assert (tmp_path / "t.csv").read_bytes() == alone


def test_impossible_variant_is_a_row_with_its_fault(tmp_path):
    """A variant that is no layout does not stop the study: its row says why."""
    plan = planned(tmp_path, ("polyurethane 8x5", "polyurethane 9x9"))
    bad = row_of(plan, 7, counted)
    assert "polyurethane 9x9" in bad.fault
    assert set(bad.results) == {None}
    assert row_of(plan, 1, counted).fault == ""


def test_reasons_for_missing_results_are_counted(tmp_path):
    """Half the cases have a tube that nobody makes: so many lack results, all for one reason."""
    path = written(tmp_path, changed(("polyurethane 8x5", "polyurethane 9x9")))
    done = CliRunner().invoke(main, ["study", str(path), "-o", str(tmp_path / "t.csv")])
    assert done.exit_code == 0, done.output
    missing = CASES // 2
    assert f"{missing} of them lack results:" in done.output
    assert re.search(rf"    {missing}  .*polyurethane 9x9", done.output)


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
    """Address, two workers and the scheduler, each a process of its own on loopback."""
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
    yield json.loads(file.read_text())["address"], running[1:], running[0]
    for one in running:
        one.kill()
        one.wait()


@pytest.mark.slow
def test_cluster_loses_nothing_with_a_worker(tmp_path, alone, cluster):
    """A cluster of which a worker is killed on the way writes the same bytes as one process."""
    address, (first, _), _ = cluster
    told = []

    def progress(done, _):
        told.append(done)
        if done >= 3 and first.poll() is None:
            first.kill()

    api.study(written(tmp_path), tmp_path / "t.csv", None, address, progress)
    assert first.wait() == -signal.SIGKILL
    assert told == sorted(set(told)), "a row was counted twice"
    assert (tmp_path / "t.csv").read_bytes() == alone


@pytest.mark.slow
def test_worker_with_another_program_is_refused(tmp_path, cluster, monkeypatch):
    """Rows of a worker that has another version of the program are not taken."""
    monkeypatch.setattr("plumbing.studies.study.cluster.program", lambda: "another")
    with pytest.raises(SolveError, match="another version"):
        api.study(written(tmp_path), tmp_path / "t.csv", None, cluster[0])
    assert not (tmp_path / "t.csv").exists()


@pytest.mark.slow
def test_lost_scheduler_is_said_and_the_study_goes_on(tmp_path, alone, cluster):
    """When the scheduler itself is ended, rows are kept, and a call without it finishes."""
    path, table = written(tmp_path), tmp_path / "t.csv"
    call = [sys.executable, "-m", "plumbing", "study", str(path), "-o", str(table)]
    call += ["--scheduler", cluster[0]]
    running = subprocess.Popen(call, stderr=subprocess.PIPE, text=True)
    rows = tmp_path / "t.csv.rows"
    while not (rows.exists() and rows.read_bytes().count(b"\n") > 1):
        time.sleep(0.01)
        assert running.poll() is None
    cluster[2].kill()
    said = running.communicate(timeout=120)[1]
    assert running.returncode == 2, said
    assert "call again" in said
    assert "Traceback" not in said
    api.study(path, table, 1)
    assert table.read_bytes() == alone


def test_scheduler_that_is_not_there_is_said(tmp_path, monkeypatch):
    """An address at which nobody answers is refused in words."""
    monkeypatch.setattr("plumbing.studies.study.cluster._PATIENCE", "1s")
    with pytest.raises(UsageError, match="no scheduler answers"):
        api.study(written(tmp_path), tmp_path / "t.csv", None, "tcp://127.0.0.1:9")


def test_scheduler_without_workers_is_said(tmp_path, cluster, monkeypatch):
    """A scheduler that no worker joins is not waited for without end."""
    for worker in cluster[1]:
        worker.kill()
        worker.wait()
    monkeypatch.setattr("plumbing.studies.study.cluster._WORKERS", "2s")
    with pytest.raises((UsageError, SolveError), match="no workers"):
        api.study(written(tmp_path), tmp_path / "t.csv", None, cluster[0])


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


def rows_of_a_study(folder, count=CASES):
    """A journal with made-up results, its plan, and the rows by number."""
    plan = planned(folder)
    made = [Row(n, plan.case(n).values, (n / 7.0, None, n), "") for n in range(1, count + 1)]
    with Journal(folder / "t.csv", "this", plan) as journal:
        journal.add(made)
    return plan, {row.number: row for row in made}


@pytest.mark.parametrize("seed", range(300))
def test_damaged_journal_never_gives_another_row(tmp_path, seed):
    """Bytes changed, lost, added, repeated or moved: a row is as it was written, or is missing."""
    plan, made = rows_of_a_study(tmp_path)
    path, dice = tmp_path / "t.csv.rows", random.Random(seed)
    content = bytearray(path.read_bytes())
    head = content.index(b"\n") + 1
    for _ in range(dice.randint(1, 4)):
        at = dice.randrange(head, len(content))
        match dice.randrange(6):
            case 0:
                content[at] = dice.choice(b'0123456789,.-e[]"n\n \x00\xff')
            case 1:
                content[at] ^= 1 << dice.randrange(8)
            case 2:
                del content[at : at + dice.randint(1, 40)]
            case 3:
                content[at:at] = content[head : head + dice.randint(1, 200)]
            case 4:
                del content[at:]
                content.extend(b"\n" * dice.randrange(2))
            case _:
                lines = content[head:].splitlines(keepends=True)
                dice.shuffle(lines)
                content[head:] = b"".join(lines)
    path.write_bytes(content)
    with Journal(tmp_path / "t.csv", "this", plan) as journal:
        missing = list(journal.missing())
        journal.add([made[number] for number in missing])
        assert list(journal.rows()) == [made[number] for number in sorted(made)]


def test_row_of_another_plan_is_computed_again(tmp_path):
    """A row whose cells are not those of the plan is not taken, though its checksum is right."""
    plan, made = rows_of_a_study(tmp_path, 3)
    other = planned(tmp_path, ("low: 40 %", "low: 41 %"))
    assert all(plan.case(number).values != other.case(number).values for number in made)
    with Journal(tmp_path / "t.csv", "this", other) as journal:
        assert journal.done == 0


def test_line_of_another_study_is_no_row(tmp_path):
    """A line pasted from the journal of another study has another checksum."""
    plan, _ = rows_of_a_study(tmp_path)
    path = tmp_path / "t.csv.rows"
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(lines[0].replace(b"this", b"that") + b"".join(lines[1:]))
    with Journal(tmp_path / "t.csv", "that", plan) as journal:
        assert journal.done == 0
