"""The same input gives the same bytes, whatever machine, clock and order it is read on."""

import hashlib
import json
import os
import random
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from plumbing import api
from plumbing.layout import read
from plumbing.report.as_json import check_json

DEMOS = Path(__file__).parents[2] / "layouts"
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
draw {} -o solid.glb
template {} -o blocks.stl
"""
REST = f"""
check {{}}
draw {{}} -o drawing.svg
draw {{}} -o drawing.png
schedule {{}} -o .
template {{}} -o holes.pdf
draw {{}} -o solid.stl
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
@pytest.mark.parametrize(
    ("name", "calls"),
    [
        pytest.param("single-main", FEW, id="single-main-few"),
        pytest.param("teed-pair", FEW, id="teed-pair-few"),
        pytest.param("single-main", REST, id="single-main-rest"),
        pytest.param("teed-pair", REST, id="teed-pair-rest", marks=pytest.mark.evening),
    ],
)
def test_same_bytes_on_another_machine(root, tmp_path, name, calls):
    """Hash seed, zone, width, locale and number of threads change no byte of any form."""
    plain = made(root, tmp_path / "plain", name, calls, PLAIN)
    other = made(root, tmp_path / "other", name, calls, OTHER)
    assert len(plain) > len(calls.split("-o")) - 1
    assert plain == other


def shuffled(node, dice, path=""):
    """The same with the keys of every mapping in another order; of flights the first is flown."""
    if isinstance(node, list):
        return [shuffled(one, dice, path) for one in node]
    if not isinstance(node, dict):
        return node
    keys = list(node)
    if path != "flights":
        dice.shuffle(keys)
    return {key: shuffled(node[key], dice, key) for key in keys}


def without_places(value):
    """Printed data without lines and columns of the file, which are in another order there."""
    if isinstance(value, list):
        return [without_places(one) for one in value]
    if not isinstance(value, dict):
        return value
    places = ("line", "column")
    return {key: without_places(one) for key, one in value.items() if key not in places}


def said(text):
    """What a check says of a layout, without the places of its words in the file."""
    data = without_places(json.loads(check_json(api.check(read(text, "mine.yaml")))))
    return json.dumps(data, sort_keys=True)


@pytest.mark.quick("single-main")
@pytest.mark.parametrize("name", sorted(path.stem for path in DEMOS.glob("*.yaml")))
def test_order_of_keys_changes_no_byte(name):
    """Keys in any order, parts and lines among them: the same findings, results and numbers."""
    text = (DEMOS / f"{name}.yaml").read_text(encoding="utf-8")
    yaml = YAML(typ="safe")
    yaml.sort_base_mapping_type_on_output = False
    written = StringIO()
    yaml.dump(shuffled(yaml.load(text), random.Random(name)), written)
    assert said(written.getvalue()) == said(text)
