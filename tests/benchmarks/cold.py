"""Cold starts: what a user waits for, best of five new processes each.

`python -m tests.benchmarks.cold` prints the table of docs/speed.md.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROUNDS = 5

COMMANDS = (
    ("--help",),
    ("check", "layouts/twin.yaml"),
    ("check", "layouts/bad.yaml"),
    ("draw", "layouts/twin.yaml", "-o", "{folder}/twin.svg"),
    ("fly", "layouts/twin.yaml"),
    ("fill", "layouts/twin.yaml"),
    ("park", "layouts/twin.yaml"),
    ("faults", "layouts/twin.yaml"),
    ("tilt", "layouts/twin.yaml"),
    ("size", "layouts/twin.yaml"),
    ("report", "layouts/twin.yaml", "-o", "{folder}/twin.html"),
    ("report", "layouts/twin.yaml", "-o", "{folder}/twin.pdf"),
)


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


def main(rounds: int = ROUNDS) -> None:
    """Print the table."""
    sys.stdout.write("| command | waited [s] | computed [s] |\n| --- | --- | --- |\n")
    for arguments in COMMANDS:
        words = " ".join(arguments).replace("{folder}/", "")
        waited, worked = best(arguments, rounds)
        sys.stdout.write(f"| `plumbing {words}` | {waited:.2f} | {worked:.2f} |\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
