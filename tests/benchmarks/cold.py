"""Cold starts: what a user waits for, best of some new processes each, against a budget.

`python -m tests.benchmarks.cold` prints the table, `--write` puts it into docs/speed.md with the
machine's name, and a number sets how many processes. A budget is an aim of processor time on two
cores; what exceeds it is shown, and nothing fails.
"""

from __future__ import annotations

import os
import platform
import re
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROUNDS = 5

PAGE = ROOT / "docs" / "speed.md"

BUDGETS = {
    ("--help",): 0.10,
    ("check", "layouts/single-main.yaml"): 0.40,
    ("check", "layouts/chained-pair.yaml"): 0.45,
    ("check", "layouts/twin.yaml"): 0.50,
    ("check", "layouts/teed-pair.yaml"): 0.60,
    ("check", "layouts/bad.yaml"): 1.00,
    ("draw", "layouts/teed-pair.yaml", "-o", "{folder}/teed.svg"): 0.90,
    ("fly", "layouts/twin.yaml"): 0.50,
    ("fill", "layouts/twin.yaml"): 0.50,
    ("park", "layouts/twin.yaml"): 0.50,
    ("faults", "layouts/twin.yaml"): 0.60,
    ("tilt", "layouts/twin.yaml"): 0.50,
    ("size", "layouts/twin.yaml"): 0.70,
    ("report", "layouts/twin.yaml", "-o", "{folder}/twin.html"): 1.20,
    ("report", "layouts/twin.yaml", "-o", "{folder}/twin.pdf"): 1.50,
}  # [s]


def best(arguments: tuple[str, ...], rounds: int = ROUNDS) -> tuple[float, float]:
    """Shortest wall and processor time of a number of new processes [s].

    Parameters
    ----------
    arguments : tuple of str
        Arguments of the command line.
    rounds : int
        How many processes.

    Returns
    -------
    tuple of float
        Wall time of the quickest and least processor time [s].
    """
    waited, worked = [], []
    with tempfile.TemporaryDirectory() as folder:
        words = [word.format(folder=folder) for word in arguments]
        for _ in range(rounds):
            start, before = time.perf_counter(), _worked()
            done = subprocess.run(
                [sys.executable, "-m", "plumbing", *words],
                cwd=ROOT,
                env={
                    **os.environ,
                    "PYTHONDONTWRITEBYTECODE": "",
                },  # as where it is set up
                capture_output=True,
                check=False,
            )
            waited.append(time.perf_counter() - start)
            worked.append(_worked() - before)
            if done.returncode not in (0, 1) or b"Traceback" in done.stderr:
                raise SystemExit(done.stderr.decode())
    return min(waited), min(worked)


def _worked() -> float:
    """Processor time of the processes that ended so far [s]."""
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def machine() -> str:
    """Processor, cores and Python it is measured with."""
    cpuinfo = Path("/proc/cpuinfo")
    rows = cpuinfo.read_text().splitlines() if cpuinfo.exists() else []
    names = [row.partition(":")[2].strip() for row in rows if row.startswith("model name")]
    name = names[0] if names else platform.processor() or platform.machine()
    busy = (
        f"; {os.getloadavg()[0]:.0f} tasks were waiting for them" if os.getloadavg()[0] > 1 else ""
    )
    return f"{name}, {os.cpu_count()} cores{busy}, Python {platform.python_version()}"


def table(rounds: int) -> Iterator[str]:
    """Lines of the table, each when it is measured."""
    yield f"Measured on {machine()}."
    yield ""
    yield "| command | waited [s] | computed [s] | budget [s] | of the budget |"
    yield "| --- | --- | --- | --- | --- |"
    for arguments, budget in BUDGETS.items():
        words = " ".join(arguments).replace("{folder}/", "")
        waited, worked = best(arguments, rounds)
        ratio = f"{worked / budget:.0%}".replace("%", " %")
        yield f"| `plumbing {words}` | {waited:.2f} | {worked:.2f} | {budget:.2f} | {ratio} |"


def main(arguments: Sequence[str]) -> None:
    """Print the table, and with `--write` put it into the page."""
    numbers = [int(word) for word in arguments if word != "--write"]
    lines = []
    for line in table(*numbers or [ROUNDS]):
        lines.append(line)
        sys.stdout.write(line + "\n")
        sys.stdout.flush()
    if "--write" in arguments:
        page = PAGE.read_text(encoding="utf-8")
        old = re.search(r"^Measured on .*?(?=\n\n[^|])", page, re.MULTILINE | re.DOTALL)
        if old is None:
            raise SystemExit(f"no table in {PAGE}")
        PAGE.write_text(page.replace(old[0], "\n".join(lines)), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
