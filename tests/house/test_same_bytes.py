"""The same input gives the same bytes, whatever machine, clock and order it is read on."""

import hashlib
import json
import os
import subprocess
import sys
from collections import Counter, defaultdict
from io import StringIO
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from plumbing import api
from plumbing.layout import read
from plumbing.report.as_json import check_json

PLAIN = {
    "PYTHONHASHSEED": "1",
    "TZ": "UTC",
    "COLUMNS": "80",
    "LC_ALL": "C",
    "RAYON_NUM_THREADS": "1",
}
OTHER = {
    "PYTHONHASHSEED": "2718",
    "TZ": "Pacific/Kiritimati",
    "COLUMNS": "200",
    "LC_ALL": "C.UTF-8",
    "RAYON_NUM_THREADS": "3",
}
THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
CALLS = """
import sys
from click.testing import CliRunner
from plumbing.cli import main
for line in sys.stdin:
    done = CliRunner().invoke(main, line.split())
    assert done.exit_code in (0, 1), (line, done.output)
    print(line, done.stdout)
"""
DAY = "--date 1-May-2026"
FEW = """
check {} --format json
draw {} -o drawing.pdf
template {} --former F2 -o holes.dxf
"""
REST = f"""
check {{}}
draw {{}} -o drawing.svg
draw {{}} -o drawing.png
schedule {{}} -o .
template {{}} -o holes.pdf
fly {{}} -o flight.svg
fly {{}} --csv flight.csv
fill {{}} --format json
park {{}} --format json
faults {{}} --format json
spread {{}} --samples 64 --format json
size {{}}
remedy {{}}
tilt {{}} -o tilt.svg
report {{}} {DAY} -o page.html
report {{}} {DAY} -o dossier.pdf
"""
TURNED = (
    "engines tanks tees valves filters pumps outlets fill-ports drains joints lines formers zones"
)
FLIGHT_ERROR = 2e-3  # steps of a flight fall elsewhere when tanks stand in another order


def made(root, folder, name, calls, told):
    """Digest of everything that commands print and write, file by file."""
    folder.mkdir()
    (folder / "mine.yaml").write_bytes((root / f"layouts/{name}.yaml").read_bytes())
    threads = dict.fromkeys(THREADS, told["RAYON_NUM_THREADS"])
    done = subprocess.run(
        [sys.executable, "-c", CALLS],
        input="\n".join(line.format("mine.yaml") for line in calls.strip().splitlines()),
        cwd=folder,
        env={**os.environ, **threads, **told, "PYTHONPATH": str(root)},
        capture_output=True,
        text=True,
        timeout=500,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    (folder / "printed").write_text(done.stdout, encoding="utf-8")
    files = sorted(one for one in folder.rglob("*") if one.is_file())
    return {one.name: hashlib.sha256(one.read_bytes()).hexdigest() for one in files}


@pytest.mark.quick("single-main-few")
@pytest.mark.parametrize("calls", [FEW, REST], ids=["few", "rest"])
@pytest.mark.parametrize("name", ["single-main", "teed-pair"])
def test_same_bytes_on_another_machine(root, tmp_path, name, calls):
    """Hash seed, zone, width, locale and number of threads change no byte of any form."""
    plain = made(root, tmp_path / "plain", name, calls, PLAIN)
    other = made(root, tmp_path / "other", name, calls, OTHER)
    assert len(plain) > len(calls.split("-o")) - 1
    assert plain == other


def turned(text):
    """A layout with its parts and lines listed the other way round."""
    yaml = YAML(typ="safe")
    yaml.sort_base_mapping_type_on_output = False
    plain = yaml.load(text)
    for section in TURNED.split():
        if section in plain:
            plain[section] = dict(reversed(plain[section].items()))
    written = StringIO()
    yaml.dump(plain, written)
    return written.getvalue()


def judged(text):
    """What a check says of a layout: findings with their values, and the other answers."""
    said = json.loads(check_json(api.check(read(text, "mine.yaml"))))
    values = defaultdict(list)
    for one in said["findings"]:
        values[one["check"]].append(one["measured"]["value"] if one["measured"] else 0.0)
    counts = Counter((one["check"], one["severity"]) for one in said["findings"])
    return counts, {name: sorted(found) for name, found in values.items()}, said


@pytest.mark.quick("single-main")
@pytest.mark.parametrize(
    "name", ["single-main", "chained-pair", "teed-pair", "twin", "wings-into-main"]
)
def test_order_of_parts_changes_no_finding(root, name):
    """Parts and lines listed backwards: the same findings, clear checks and numbers."""
    text = Path(root / f"layouts/{name}.yaml").read_text(encoding="utf-8")
    assert turned(text) != text
    counts, values, said = judged(text)
    counts_turned, values_turned, said_turned = judged(turned(text))
    assert counts == counts_turned
    assert sorted(said["clear"]) == sorted(said_turned["clear"])
    assert said["unchecked"] == said_turned["unchecked"]
    for check, found in values.items():
        assert values_turned[check] == pytest.approx(found, rel=FLIGHT_ERROR)
    for engine, peak in said["peak_flow"].items():
        turned_peak = said_turned["peak_flow"][engine]["suction"]
        for bound in ("value", "low", "high"):
            assert turned_peak[bound] == pytest.approx(peak["suction"][bound], rel=1e-9)
