"""A command killed at any moment leaves the old file or the new one, never a part."""

import os
import subprocess
import sys

import pytest

COMMANDS = """
draw {which}.yaml -o {out}/drawing.svg
schedule {which}.yaml --what lines -o {out}/lines.csv
template {which}.yaml --former F2 -o {out}/holes.dxf
fly {which}.yaml --csv {out}/flight.csv -o {out}/flight.svg
tilt {which}.yaml -o {out}/tilt.svg
report {which}.yaml --date 1-May-2026 -o {out}/page.html
report {which}.yaml --date 1-May-2026 -o {out}/dossier.pdf
draw {which}.yaml -o {out}/drawing.pdf
draw {which}.yaml -o {out}/drawing.png
template {which}.yaml --former F2 -o {out}/holes.pdf
schedule {which}.yaml -o {out}
asbuilt {which}.yaml --csv {out}/compared.csv
study {which}-study.yaml -o {out}/table.csv --workers 1
new single-main -o {out}/mine.yaml ; new teed-pair -o {out}/mine.yaml --force
new single-main -o {out}/mine.yaml ; size {out}/mine.yaml --apply
"""
MEASURED = """
measured:
  bench fill: {what: fill-pressure, part: main, pressure: %s kPa, at-flow: 1 L/min}
"""
STUDY = """
study: 1
title: how full
layout: %s.yaml
vary: {tanks.main.fill: [90 %%, %s %%]}
results: [suction, endurance]
"""
FEW = "\n".join(COMMANDS.strip().splitlines()[1:3])


def killed(root, folder, commands, times, seed):
    """How many of the calls were killed before they were done."""
    text = (root / "layouts/single-main.yaml").read_text(encoding="utf-8")
    changed = text.replace("Heron 2.4", "Heron 2.5").replace("cut-length: 375", "cut-length: 380")
    changed = changed.replace("diameter: 9 mm", "diameter: 10 mm").replace("fill: 97", "fill: 96")
    for which, written, number in (("one", text, 14), ("other", changed, 15)):
        layout = written + MEASURED % number
        (folder / f"{which}.yaml").write_text(layout, encoding="utf-8")
        study = STUDY % (which, 80 + number)
        (folder / f"{which}-study.yaml").write_text(study, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, root / "tests/house/killed.py", folder / "out", str(times), str(seed)],
        input=commands,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(root)},
        capture_output=True,
        text=True,
        timeout=3000,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return int(done.stdout)


@pytest.mark.slow
def test_killed_a_few_times(root, tmp_path):
    """Two writers, six times each, at random moments and at random bytes."""
    (tmp_path / "out").mkdir()
    assert killed(root, tmp_path, FEW, 6, 14) >= 6


@pytest.mark.slow
def test_killed_many_times(root, tmp_path):
    """Every writer in every form, each several times; `KILLS=34` kills five hundred times."""
    times = int(os.environ.get("KILLS", "6"))
    (tmp_path / "out").mkdir()
    assert killed(root, tmp_path, COMMANDS, times, 1) >= 4 * times
