"""What machines read keeps its form: JSON Schemas, versions, files whole or not at all."""

import copy
import json
import os
import signal
import subprocess
import sys
import time
from functools import cache

import jsonschema
import pytest
from click.testing import CliRunner

from plumbing import api
from plumbing.api.door import writing
from plumbing.api.knowledge import SCHEMAS
from plumbing.cli import main
from plumbing.errors import LayoutError, UsageError
from plumbing.layout import STARTERS, read, starter
from plumbing.report.as_json import check_data
from plumbing.report.fly_json import fly_data

LAYOUTS = ["bad", "chained-pair", "teed-pair", "twin"]


def validator(of):
    """Validator of one schema, which must itself be one."""
    schema = api.schema(of)
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@pytest.fixture(scope="module")
def checked(pytestconfig):
    """Checks of layouts as plain data, asked for by name."""

    @cache
    def of(name):
        examined = api.check(pytestconfig.rootpath / "layouts" / f"{name}.yaml")
        return json.loads(json.dumps(check_data(examined), allow_nan=False))

    return of


@pytest.mark.quick("chained-pair")
@pytest.mark.parametrize("layout", LAYOUTS)
def test_check_is_as_its_schema_says(checked, layout):
    """What a check prints is valid by the schema that is exported."""
    errors = [error.message for error in validator("check").iter_errors(checked(layout))]
    assert errors == []


def test_flight_is_as_its_schema_says(pytestconfig):
    """What a flight prints is valid by the schema that is exported."""
    for name in LAYOUTS:
        flown = api.fly(pytestconfig.rootpath / "layouts" / f"{name}.yaml")
        validator("flight").validate(json.loads(json.dumps(fly_data(flown))))


@pytest.mark.quick("single-main")
@pytest.mark.parametrize("name", STARTERS)
def test_starters_check_as_the_schema_says(name):
    """Starters, which leave much to be assumed, give results of the same form."""
    data = json.loads(json.dumps(check_data(api.check(read(starter(name))))))
    validator("check").validate(data)


def keys_of(value, path=()):
    """Paths of all keys of plain data, whatever the names of parts."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield (*path, key)
            yield from keys_of(inner, (*path, key))
    elif isinstance(value, list) and value:
        yield from keys_of(value[0], (*path, 0))


def without(data, path):
    """The same data without one key."""
    result = copy.deepcopy(data)
    inner = result
    for key in path[:-1]:
        inner = inner[key]
    del inner[path[-1]]
    return result


@pytest.mark.slow
def test_key_that_goes_is_noticed(checked):
    """A result that lost any of its own keys is no longer valid: names stay."""
    valid, data = validator("check"), checked("bad")
    named = {"peak_flow", "not_computed", "flame_out_s", "air_at_pump", "air_in_header_s",
             "airstream_Pa", "on_board_m3", "burnt_m3", "left_m3",
             "header_air_m3", "stranded_m3", "tank_pressures", "pickup_drops_Pa",
             "filter_drops_Pa", "line_to_pump_m3", "line_to_engine_m3",
             "uncovered_s", "uncovered_still_s"}  # fmt: skip
    lost = [
        path
        for path in keys_of(data)
        if not (len(path) > 1 and path[-2] in named) and valid.is_valid(without(data, path))
    ]
    assert lost == []


OTHERS = ["fill", "park", "faults", "tilt", "spread", "asbuilt", "logbook"]
BY_PART = {
    "filling", "draining", "volume_m3", "tanks", "left_m3", "suction_Pa", "flat_vent_closed_m3",
    "attitudes", "fuel_m3", "moved_m3", "over_rated_Pa", "sags_m", "moved_m3_s",
    "dry_without_a_fault_s", "stops_s", "first_air_s", "folds_s", "tank_suction_Pa", "drivers",
    "sobol", "not_computed", "missed", "lost_overboard_m3", "lost",
    "capped_pressure_Pa",
}  # fmt: skip


def printed(command, path):
    """What a command prints as JSON, read strictly."""
    few = ["--samples", "64", "--sobol"] if command == "spread" else []
    done = CliRunner().invoke(main, [command, str(path), "--format", "json", *few])
    assert done.exit_code in (0, 1), done.output
    return json.loads(done.stdout, parse_constant=pytest.fail)


@pytest.mark.quick("fill", "park", "fly", "size")
@pytest.mark.parametrize("layout", ["chained-pair", "twin"])
@pytest.mark.parametrize("command", OTHERS)
def test_every_command_prints_what_its_schema_says(pytestconfig, command, layout):
    """What the other commands print is valid by their schemas, and would not be without a key."""
    data = printed(command, pytestconfig.rootpath / "layouts" / f"{layout}.yaml")
    valid = validator(command)
    assert [error.message for error in valid.iter_errors(data)] == []
    lost = [
        path
        for path in keys_of(data)
        if not (len(path) > 1 and path[-2] in BY_PART) and valid.is_valid(without(data, path))
    ]
    assert lost == []


def test_measured_values_are_as_their_schema_says(pytestconfig, tmp_path):
    """A comparison with something measured is valid by its schema."""
    text = (pytestconfig.rootpath / "layouts" / "single-main.yaml").read_text()
    path = tmp_path / "built.yaml"
    path.write_text(text + "measured:\n  gauge: {what: inlet-suction, pressure: 4 kPa}\n")
    data = printed("asbuilt", path)
    validator("asbuilt").validate(data)
    assert data["measured"][0]["measured"]["value"] == 4000.0


def test_not_a_number_is_refused(checked):
    """A text where a number belongs, or another version, is not valid."""
    data = copy.deepcopy(checked("chained-pair"))
    data["flight"]["usable_m3"] = "nan"
    assert not validator("check").is_valid(data)
    data = copy.deepcopy(checked("chained-pair"))
    data["format"] = "plumbing-check/2"
    assert not validator("check").is_valid(data)


@pytest.mark.parametrize("of", SCHEMAS)
def test_schemas_are_printed(of):
    """The command prints the schema that the front door gives."""
    done = CliRunner().invoke(main, ["schema", "--of", of])
    assert done.exit_code == 0
    assert json.loads(done.stdout) == api.schema(of)


def test_unknown_schema_is_refused():
    """The front door says which schemas there are."""
    with pytest.raises(UsageError, match="layout, check, flight, fill"):
        api.schema("filling")


@pytest.mark.parametrize(
    ("version", "way"),
    [("0", "`format: 2`"), ("3", "newer plumbing"), ("1.0", "`format: 2`"), ("one", "`format: 2`")],
)
def test_other_format_is_refused_with_the_way_to_convert(version, way):
    """A layout of another format is one fault, at its place, that says what to do."""
    text = starter("single-main").replace("format: 2", f"format: {version}", 1)
    with pytest.raises(LayoutError) as caught:
        read(text, "old.yaml")
    (fault,) = caught.value.faults
    assert version in fault.found
    assert way in fault.expected
    assert fault.place.file == "old.yaml"


WRITER = """
import sys, time
from plumbing.api.door import writing
from plumbing.api.knowledge import SCHEMAS
with writing(sys.argv[1]) as stream:
    for byte in range(0, 300_000, 1000):
        stream.write(b"new!" * 250)
        stream.flush()
        print(byte, flush=True)
        time.sleep(0.02)
"""


def put(path, content):
    """Write a file, whatever was there."""
    api.Door(force=True).write({path: content})


def test_killed_writer_leaves_the_old_file(tmp_path):
    """A writer killed in the middle leaves the old file as it was, byte for byte."""
    target = tmp_path / "results.json"
    target.write_bytes(b"old and whole")
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(target)], stdout=subprocess.PIPE, text=True
    )
    assert [writer.stdout.readline() for _ in range(3)] == ["0\n", "1000\n", "2000\n"]
    writer.send_signal(signal.SIGKILL)
    writer.wait()
    writer.stdout.close()
    assert target.read_bytes() == b"old and whole"
    parts = [one for one in tmp_path.iterdir() if one != target]
    assert [0 < one.stat().st_size < 300_000 for one in parts] == [True], "it was in the middle"
    put(target, b"new")
    assert target.read_bytes() == b"new"


def test_reader_never_sees_half_a_file(tmp_path):
    """While a file is written again and again, a reader sees one whole content or the other."""
    target = tmp_path / "page.html"
    contents = [b"a" * 200_000, b"b" * 300_000]
    put(target, contents[0])
    child = os.fork()
    if child == 0:
        for turn in range(200):
            put(target, contents[turn % 2])
        os._exit(0)
    until = time.monotonic() + 5.0
    while os.waitpid(child, os.WNOHANG) == (0, 0) and time.monotonic() < until:
        assert target.read_bytes() in contents


def test_refused_path_is_said_and_leaves_nothing(tmp_path):
    """A path that cannot be written is refused in words, and no part is left behind."""
    (tmp_path / "folder").mkdir()
    with pytest.raises(UsageError, match="cannot write"):
        put(tmp_path / "folder", b"x")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["folder"]


def test_exception_in_the_middle_leaves_the_old_file(tmp_path):
    """Whatever goes wrong while a file is written, Ctrl-C too, leaves the old one and no part."""
    target = tmp_path / "results.csv"
    target.write_bytes(b"old")

    def stopped():
        with writing(target) as stream:
            stream.write(b"new")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    assert target.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["results.csv"]


def test_file_written_anew_keeps_its_link_and_permissions(tmp_path):
    """A link stays a link, and a file that others may not read stays so."""
    target, link = tmp_path / "real.csv", tmp_path / "link.csv"
    target.write_bytes(b"old")
    target.chmod(0o600)
    link.symlink_to(target)
    put(link, b"new")
    assert link.is_symlink()
    assert target.read_bytes() == b"new"
    assert target.stat().st_mode & 0o777 == 0o600


def test_what_is_no_file_is_written_into(tmp_path):
    """A named pipe gets the content and stays a pipe, as a device would."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = subprocess.Popen(["cat", str(pipe)], stdout=subprocess.PIPE)
    put(pipe, b"content")
    assert reader.communicate(timeout=20)[0] == b"content"
    assert pipe.is_fifo()


FULL = """
import resource, sys
from plumbing.api import Door
from plumbing.errors import UsageError
resource.setrlimit(resource.RLIMIT_FSIZE, (50_000, 50_000))
try:
    Door(force=True).write({sys.argv[1]: b"new" * 100_000})
except UsageError as error:
    print(error)
"""


def test_full_disk_leaves_the_old_file(tmp_path):
    """Where a file cannot grow, as on a full disk, the old one stays and the reason is said."""
    target = tmp_path / "results.csv"
    target.write_bytes(b"old")
    call = [sys.executable, "-c", FULL, str(target)]
    done = subprocess.run(call, capture_output=True, text=True, check=True)
    assert "cannot write" in done.stdout
    assert "File too large" in done.stdout
    assert target.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["results.csv"]
