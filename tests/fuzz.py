"""Damage files by the thousand and read them: `python -m tests.fuzz --files 20000 --seed 1`.

Layouts, logs, meshes, studies and quantities begin as those of `tests/corpus`. With `--guided` a
file that leads a reader to lines of the program where none was before is damaged further, which
takes some ten times as long. A file that does harm is written into `--into`, to be kept in the
corpus once the program is mended.
"""

import argparse
import hashlib
import random
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from tests.properties.test_readers import SEEDS, damaged, outcome

PROGRAM = str(Path(__file__).parents[1] / "plumbing")
KINDS = sorted({one.parent.name for one in SEEDS})


class Reached:
    """Lines of the program that files have led to."""

    def __init__(self):
        self.lines = set()
        self.more = False

    def __enter__(self):
        self.more = False
        sys.settrace(self._called)

    def __exit__(self, *error):
        sys.settrace(None)

    def _called(self, frame, _event, _argument):
        return self._line if frame.f_code.co_filename.startswith(PROGRAM) else None

    def _line(self, frame, _event, _argument):
        where = frame.f_code.co_filename, frame.f_lineno
        if where not in self.lines:
            self.lines.add(where)
            self.more = True
        return self._line


def fuzz(kind, options, folder):
    """Read so many damaged files of a kind; how many were read, refused, harmful, and new."""
    dice, counts = random.Random(f"{options.seed} {kind}"), Counter()
    pool = [one.read_bytes() for one in SEEDS if one.parent.name == kind]
    reached = Reached()
    for _ in range(options.files // len(KINDS)):
        content = damaged(dice.choice(pool), dice)
        begun = time.process_time()
        try:
            if options.guided:
                with reached:
                    read = outcome(kind, content, folder)
            else:
                read = outcome(kind, content, folder)
            counts["read" if read else "refused"] += 1
        except Exception as error:  # noqa: BLE001 - the fuzzer exists to find these
            counts["harmful"] += 1
            name = hashlib.sha256(content).hexdigest()[:12]
            (options.into / f"{kind}-{name}").write_bytes(content)
            sys.stderr.write(f"{kind}-{name}: {type(error).__name__}: {error}\n")
        counts["slowest"] = max(counts["slowest"], time.process_time() - begun)
        if reached.more:
            pool.append(content)
            counts["kept"] += 1
    return counts


def main():
    """Read the options, run, print the counts; exit code 1 if a file did harm."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--files", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--guided", action="store_true")
    parser.add_argument("--into", type=Path, default=Path("build/fuzz"))
    options = parser.parse_args()
    options.into.mkdir(parents=True, exist_ok=True)
    harmful = 0
    with tempfile.TemporaryDirectory() as folder:
        for kind in KINDS:
            counts = fuzz(kind, options, Path(folder))
            harmful += counts["harmful"]
            row = ", ".join(f"{counts[what]} {what}" for what in ("read", "refused", "harmful"))
            more = f", {counts['kept']} led further" if options.guided else ""
            sys.stdout.write(f"{kind}: {row}{more}, slowest {counts['slowest']:.2f} s\n")
            sys.stdout.flush()
    sys.exit(harmful > 0)


if __name__ == "__main__":
    main()
