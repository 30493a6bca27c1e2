"""Calls the command line over and over and kills it at a random moment or byte.

Run by `test_killed.py` in a process of its own, which loads the program once and forks each call.
"""

import os
import random
import resource
import signal
import sys
import time
from pathlib import Path

from plumbing.cli import main


def called(arguments: list[str], most: int | None = None) -> int:
    """Start a call in a child of its own, which dies where it writes more than so many bytes."""
    child = os.fork()
    if child:
        return child
    if most is not None:
        signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    os.dup2(1, 2)
    try:
        main(arguments)
    except SystemExit as ended:
        os._exit(ended.code if isinstance(ended.code, int) else 1)
    os._exit(0)


def seconds(arguments: list[str]) -> float:
    """Time of a call that is left alone."""
    start = time.monotonic()
    _, status = os.waitpid(called(arguments), 0)
    assert os.waitstatus_to_exitcode(status) in (0, 1), arguments
    return time.monotonic() - start


def content(folder: Path) -> dict[str, bytes]:
    """Every result, by name; no result is what a writer hides or keeps of an unfinished study."""
    results = (one for one in folder.iterdir() if one.name[0] != "." and one.suffix != ".rows")
    return {one.name: one.read_bytes() for one in results}


def killed(
    first: list[str], second: list[str], folder: Path, times: int, dice: random.Random
) -> int:
    """Kill the second call over the results of the first; how often it was not yet done."""
    folder.mkdir()
    seconds(first)
    old = content(folder)
    lasts = seconds(second)
    new = content(folder)
    assert old.keys() == new.keys(), (old.keys(), new.keys())
    assert old != new, second
    early = 0
    longest = max(map(len, new.values()))
    for turn in range(times):
        for name, kept in old.items():
            (folder / name).write_bytes(kept)
        child = called(second, dice.randrange(longest) if turn % 2 else None)
        if not turn % 2:
            time.sleep(lasts * (1.1 - dice.random() ** 2))  # most of them near the end
            os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        found = content(folder)
        assert found.keys() == old.keys(), (second, found.keys())
        for name, kept in found.items():
            assert kept in (old[name], new[name]), f"{second}: a part of {name}"
        early += found != new
    return early


if __name__ == "__main__":
    place, times = Path(sys.argv[1]), int(sys.argv[2])
    dice = random.Random(int(sys.argv[3]))
    early = 0
    for number, line in enumerate(sys.stdin.read().strip().splitlines()):
        folder = place / str(number)
        first, _, second = line.partition(";")
        one, other = (
            [word.format(which=which, out=folder) for word in words.split()]
            for which, words in (("one", first), ("other", second or first))
        )
        early += killed(one, other, folder, times, dice)
    sys.stdout.write(str(early))
