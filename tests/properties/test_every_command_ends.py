"""A long computation says how long it takes, and ends when it is told to, with what it has."""

from __future__ import annotations

import json
import os
import re
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from plumbing import api
from plumbing.cli import waiting
from plumbing.errors import Stopped
from plumbing.findings import Severity
from plumbing.layout import read
from plumbing.report.as_json import check_data
from plumbing.report.subject import Subject
from plumbing.report.text import check_text
from plumbing.stopping import going, part, watched, within

from .large import LARGE, teed

ROOT = Path(__file__).parents[2]
PROCESSOR = 60.0  # seconds after which a command must have said how long it takes
MEMORY = 1 << 30
LINUX = pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")
DRAWN = ["draw -o d.svg", "report -o r.html", "report -o d.pdf"]
COMMANDS = ["check", "faults", "fill", "spread", *DRAWN]
IN_THE_GATE = {("rings", "check"), ("rings", "faults"), ("teed", "fill")}


class Impatient:
    """Stops what it waits for once so much of it is done."""

    def __init__(self, what, share):
        self.what, self.share = what, share

    def __enter__(self):
        self.context = watched("all", self.tell)
        self.watch = self.context.__enter__()
        return self.watch

    def __exit__(self, *error):
        return self.context.__exit__(*error)

    def tell(self, what, share):
        """Hear how far it is."""
        if what == self.what and share >= self.share:
            self.watch.stop = True


def test_shares_of_parts_add_up():
    """Parts within parts are told as shares of the whole, and what is within has its own."""
    told = []
    with watched("all", lambda what, share: told.append((what, share))):
        with part(0.5, 1.0), part(0.0, 0.5):
            going(0.5)
            with within("inner"):
                going(0.5)
        going(1.0)
    assert told == [("all", 0.625), ("inner", 0.5), ("all", 1.0)]
    going(0.5)  # nobody waits: nothing happens
    assert len(told) == 3


def test_stopped_faults_keep_those_that_were_flown():
    """Faults flown before the stop are as ever; the others are named with the reason."""
    layout = read(teed(4))
    whole = api.faults(layout)
    with Impatient("all", 0.6):
        some = api.faults(layout)
    assert not whole.partial
    assert some.partial
    known = {one.fault: one for one in whole.outcomes}
    assert 0 < len(some.outcomes) < len(whole.outcomes)
    assert all(known[one.fault].does == one.does for one in some.outcomes)
    assert len(some.outcomes) + len(some.unknown) == len(whole.outcomes) + len(whole.unknown)
    assert all("stopped before it was done" in str(one.why) for one in some.unknown)


def test_faults_stopped_at_once_have_nothing_to_show():
    """Without a single fault flown there is no result."""
    with Impatient("all", 0.0), pytest.raises(Stopped):
        api.faults(read(teed(3)))


def test_a_stopped_check_is_not_judged():
    """What was not reached is unchecked with the reason, the verdict partial and never passed."""
    with Impatient("flight", 0.6):
        examined = api.check(ROOT / "layouts/single-main.yaml")
    verdict = examined.verdict
    assert verdict.partial
    assert not verdict.passes(Severity.UNSAFE)
    missing = [one.what for one in verdict.not_judged]
    assert "flight" in missing
    assert "filling through fill" in missing
    assert "Partial: it was stopped" in check_text(Subject(examined))
    data = check_data(examined)
    assert data["partial"] is True
    assert data["not_computed"]["flight"] == "stopped before it was done"
    assert data["peak_flow"]


def test_a_stopped_spread_is_that_of_fewer_samples():
    """What is shown is the spread of the samples computed until then."""
    layout = ROOT / "layouts/single-main.yaml"
    with Impatient("all", 0.5):
        some = api.spread(layout, 512, 1)
    few = api.spread(layout, 256, 1)
    assert some.partial
    assert some.samples == 256
    assert some.chances == few.chances
    assert "256 of 512" in some.unsolved["samples"]


def test_a_long_computation_is_said_once(monkeypatch):
    """After five seconds the time left is said where it is over a minute: rule of three."""
    said, now = [], [100.0]
    monkeypatch.setattr(waiting, "tell", said.append)
    monkeypatch.setattr(waiting.time, "monotonic", lambda: now[0])
    teller = waiting._Teller(None)
    for second in range(20):
        now[0] = 100.0 + second
        teller("Flying", second / 600.0)
        teller("Filling", second / 20.0)
    assert said == ["Flying: about 10 min more; Ctrl-C ends it with what is done by then"]


@pytest.mark.slow
@LINUX
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_ends_a_command_with_what_it_has(tmp_path, number):
    """Ctrl-C and kill: JSON that says it is partial, and the exit code of a stop."""
    path = tmp_path / "teed.yaml"
    path.write_text(teed(20), encoding="utf-8")
    with started(tmp_path, ["faults", str(path), "--format", "json"]) as child:
        while child.poll() is None and spent(child.pid) < 6.0:
            time.sleep(0.1)
        child.send_signal(number)
        out, err = child.communicate(timeout=300)
    assert child.returncode == 130, err
    if out:
        assert json.loads(out)["partial"] is True
        assert "the result is partial; not done" in err
    else:
        assert "nothing is done that could be shown" in err


def started(folder, arguments):
    """A command in a process of its own, that may use no more memory than is allowed."""

    def limited():
        resource.setrlimit(resource.RLIMIT_DATA, (MEMORY, MEMORY))

    return subprocess.Popen(
        [sys.executable, "-m", "plumbing", *arguments],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=limited,
    )


def spent(pid):
    """Processor time of a process [s]; none where it has ended."""
    with open(f"/proc/{pid}/stat", encoding="ascii") as file:
        fields = file.read().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@LINUX
@pytest.mark.parametrize(
    ("name", "command"),
    [
        pytest.param(
            name,
            command,
            marks=pytest.mark.slow if (name, command) in IN_THE_GATE else pytest.mark.evening,
        )
        for name in LARGE
        for command in COMMANDS
    ],
)
def test_every_command_ends_on_large_systems(tmp_path, name, command):
    """In a minute of processor time and 1 GB; or it says how long, and ends when told to."""
    path = tmp_path / "large.yaml"
    path.write_text(LARGE[name](), encoding="utf-8")
    verb, *options = command.split()
    with started(tmp_path, [verb, str(path), *options]) as child:
        try:
            while child.poll() is None and spent(child.pid) < PROCESSOR:
                time.sleep(0.2)
            took_long = child.poll() is None
            child.send_signal(signal.SIGTERM) if took_long else None
            _, err = child.communicate(timeout=400)
        finally:
            child.kill()
    if took_long:
        assert re.search(r"about \d+ min more", err), err
        assert child.returncode == 130, err
    else:
        assert child.returncode in (0, 1), err
