"""A command killed at any moment leaves the old file or the new one, never a part."""

import os
import subprocess
import sys

import pytest

COMMANDS = """
draw {layout} -o {out}/drawing.svg
schedule {layout} --what lines -o {out}/lines.csv
template {layout} --former F2 -o {out}/holes.dxf
fly {layout} --csv {out}/flight.csv -o {out}/flight.svg
tilt {layout} -o {out}/tilt.svg
report {layout} --date 1-May-2026 -o {out}/page.html
report {layout} --date 1-May-2026 -o {out}/dossier.pdf
draw {layout} -o {out}/drawing.pdf
draw {layout} -o {out}/drawing.png
template {layout} --former F2 -o {out}/holes.pdf
schedule {layout} -o {out}
"""
FEW = "\n".join(COMMANDS.strip().splitlines()[1:3])


def killed(root, folder, commands, times, seed):
    """How many of the calls were killed before they were done."""
    text = (root / "layouts/single-main.yaml").read_text(encoding="utf-8")
    (folder / "one.yaml").write_text(text, encoding="utf-8")
    changed = text.replace("Heron 2.4", "Heron 2.5").replace("cut-length: 375", "cut-length: 380")
    changed = changed.replace("diameter: 9 mm", "diameter: 10 mm").replace("fill: 97", "fill: 96")
    (folder / "other.yaml").write_text(changed, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, root / "tests/house/killed.py", folder / "out", str(times), str(seed)],
        input=commands,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(root)},
        capture_output=True,
        text=True,
        timeout=1500,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return int(done.stdout)


def test_killed_a_few_times(root, tmp_path):
    """Two writers, six times each, at random moments and at random bytes."""
    (tmp_path / "out").mkdir()
    assert killed(root, tmp_path, FEW, 6, 14) >= 6


@pytest.mark.slow
def test_killed_many_times(root, tmp_path):
    """Eleven writers of every form, each several times; `KILLS=46` kills five hundred times."""
    times = int(os.environ.get("KILLS", "6"))
    (tmp_path / "out").mkdir()
    assert killed(root, tmp_path, COMMANDS, times, 1) >= 4 * times
