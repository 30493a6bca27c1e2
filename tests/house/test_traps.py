"""Odd surroundings and odd values end in words: no trace, no silence, no wait without end."""

import os
import re
import subprocess
import sys

import pytest

from plumbing import api, quantities, units
from plumbing.errors import LayoutError
from plumbing.layout import load, read

SMALL = "layouts/single-main.yaml"


def run(root, *arguments, **ways):
    """The command line in a new process."""
    call = [sys.executable, *ways.pop("python", []), "-m", "plumbing", *map(str, arguments)]
    return subprocess.run(
        call, cwd=root, stderr=subprocess.PIPE, text=True, check=False, timeout=120, **ways
    )


@pytest.mark.parametrize("arguments", [("check", SMALL), ("--help",), ("schema",)])
def test_full_disk_behind_the_output_is_said(root, arguments):
    """What cannot be written is not called printed, nor an error of the program."""
    with open("/dev/full", "w") as full:
        done = run(root, *arguments, stdout=full)
    assert done.returncode == 2
    assert done.stderr == "plumbing: the output cannot be written: No space left on device\n"


def test_closed_output_is_said(root):
    """Without an output there is no verdict, and the exit code does not claim one."""
    done = run(root, "check", SMALL, preexec_fn=lambda: os.close(1))
    assert done.returncode == 2
    assert "standard output is closed" in done.stderr


def test_reader_that_goes_away_is_no_finding(root):
    """`check | head` is not taken for a check with findings, nor for one without."""
    head, tail = os.pipe()
    os.close(head)
    done = run(root, "check", SMALL, stdout=tail)
    os.close(tail)
    assert done.returncode == 141
    assert done.stderr == ""


def test_python_without_docstrings_is_refused(root):
    """The checks' texts are docstrings, which `-OO` takes away."""
    done = run(root, "check", SMALL, python=["-OO"], stdout=subprocess.PIPE)
    assert done.returncode == 2
    assert "without -OO" in done.stderr


@pytest.mark.parametrize("command", ["check", "study"])
def test_pipe_into_which_nobody_writes_is_not_waited_for(tmp_path, monkeypatch, command, call):
    """A pipe without a writer is refused; one with a writer is read."""
    monkeypatch.setattr("plumbing.layout.content._PATIENCE", 0.2)
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    done = call(command, pipe)
    assert done.exit_code == 2
    assert "a pipe into which nobody writes" in done.output


def test_layout_comes_through_a_pipe(root, tmp_path):
    """What somebody writes into a pipe is read like a file."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    writer = subprocess.Popen(["cp", str(root / SMALL), str(pipe)])
    assert load(pipe) == load(root / SMALL)
    assert writer.wait(timeout=10) == 0


@pytest.mark.parametrize("path", ["/dev/zero", "/dev/null"])
@pytest.mark.parametrize("arguments", [("check", "PATH"), ("fly", SMALL, "--log", "PATH")])
def test_device_is_no_file(root, call, path, arguments):
    """A device is called one, not a file of some size."""
    stands = {"PATH": path, SMALL: root / SMALL}
    done = call(*(stands.get(one, one) for one in arguments))
    assert done.exit_code == 2
    assert f"`{path}`, which cannot be read: a device" in done.output


@pytest.mark.parametrize("count", ["1" * 6000, "000000001" + "0" * 5991, "1e3", "²", "٣", "-1"])
def test_samples_are_a_plain_count(root, tmp_path, call, count):
    """Neither six thousand digits nor digits of another script are a number of samples."""
    (tmp_path / "a.yaml").write_text((root / SMALL).read_text())
    study = tmp_path / "s.yaml"
    lines = [count[at : at + 1900] for at in range(0, len(count), 1900)]
    study.write_text(
        "study: 1\nlayout: a.yaml\nresults: [suction]\nvary:\n"
        "  fuel.temperature.usual: {low: 0 degC, high: 9 degC}\n"
        'samples: "' + "\\\n  ".join(lines) + '"\n'
    )
    done = call("study", study, "-o", tmp_path / "t.csv")
    assert done.exit_code == 2
    assert "1 to 1000000 samples" in done.output


@pytest.mark.parametrize("version", ["²", "٢", "1²", "9" * 6000])
def test_format_is_a_plain_number(version):
    """A format with digits that are none is refused like any other."""
    with pytest.raises(LayoutError) as caught:
        read("format: " + version[:1900] + "\n")
    assert "format" in caught.value.faults[0].found


@pytest.mark.parametrize(
    "text", ["12 count", "3 bit", "6 dB", "12 percent", "1 sr", "2 ppm", "1 Np"]
)
def test_numbers_are_no_angles(text):
    """Only what is made of radians is an angle (SI Brochure, 9th edition, section 2.3.3)."""
    with pytest.raises(quantities.UnitError, match="such as `12 deg`"):
        quantities.parse(text, "angle")


@pytest.mark.parametrize("text", ["90 deg", "0.25 turn", "100 gon", "5400 arcmin"])
@pytest.mark.outside("a quarter turn is pi/2 rad, 90 deg, 100 gon", quantity="units of angle")
def test_angles_are_angles(text):
    """A quarter turn in every unit is pi/2."""
    assert quantities.parse(text, "angle") == pytest.approx(1.5707963267948966, rel=1e-12)


@pytest.mark.parametrize("kind", units.KINDS)
@pytest.mark.parametrize("unit", ["dB", "dB*m", "m/dB", "dBm*dB", "Np m", "oct s", "dB**-1*px"])
def test_logarithmic_units_are_refused(kind, unit):
    """A decibel in a unit is refused in words, whatever the quantity."""
    with pytest.raises(quantities.UnitError, match="expected"):
        quantities.parse(f"3 {unit}", kind)


MESH = "{mesh: {at: [300 mm, 0 mm, 0 mm], file: a.stl}}"
FACET = (
    "solid a\n facet normal 0 0 x\n  outer loop\n   vertex 0 0 0\n   vertex 1 0 0\n"
    "   vertex 0 1 0\n  endloop\n endfacet\nendsolid a\n"
)


def test_mesh_with_a_bad_normal_prints_nothing(root, tmp_path, capfd, call):
    """What a library says of a mesh is not printed; the fault is ours to say."""
    text, count = re.subn(
        r"(?<=  shape: )\{(box|cylinder|capsule): \{[^}]*\}\}",
        MESH,
        (root / SMALL).read_text(),
        count=1,
    )
    assert count
    (tmp_path / "a.yaml").write_text(text)
    (tmp_path / "a.stl").write_text(FACET)
    done = call("check", tmp_path / "a.yaml")
    assert done.exit_code == 2
    assert "a.stl" in done.output
    said = capfd.readouterr()
    assert "Traceback" not in said.out + said.err + done.output


LIMITS = [
    ("header-too-smal: 15 s", "perhaps `header-too-small`"),
    ("header-too-small: 1e300 s", "0 to 1500 s"),
    ("header-too-small: -1 s", "0 to 1500 s"),
    ("engine-below-fuel-with-valve-open: 2 m", "0 to 1000 mm"),
    ("header-too-small: 15 mm", "a time such as `90 s`"),
]


@pytest.mark.parametrize(("line", "expected"), LIMITS)
@pytest.mark.parametrize("command", ["check", "fly", "park", "schedule"])
def test_wrong_limit_is_a_fault_of_the_file_for_every_command(
    root, tmp_path, call, command, line, expected
):
    """A limit that is none is told at its own line, whatever the file is read for."""
    path = tmp_path / "mine.yaml"
    path.write_text((root / SMALL).read_text() + f"\nlimits:\n  no-loop-in-vent: 30 mm\n  {line}\n")
    done = call(command, path)
    assert done.exit_code == 2, done.output
    assert expected in done.output
    assert f"mine.yaml:{len(path.read_text().splitlines())}:3" in done.output


def test_right_limit_is_in_force(root, tmp_path):
    """A limit within reason is taken."""
    path = tmp_path / "mine.yaml"
    path.write_text((root / SMALL).read_text() + "\nlimits: {header-too-small: 10 min}\n")
    assert api.load(path).limits == {"header-too-small": "10 min"}
