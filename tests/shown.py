"""Runs every `sh` block of the pages in a copy of the project and compares what they show.

`python -m tests.shown` renews the numbers in the pages; `--check` only compares. A block in
`text` after a block in `sh` shows its output: every line of it must be printed, in this order;
a line `...` stands for lines left out. Numbers may differ by a hundredth: machines do.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent
PAGES = ("README.md", "docs/tutorial.md", "docs/study.md", "DEVELOPERS.md")
COPIED = ("plumbing", "tests", "docs", "layouts", "pyproject.toml", "README.md", "DEVELOPERS.md")
SET_UP = re.compile(r"^(python3 -m venv|\.venv/bin/pip|\.venv/bin/pytest)\b.*$", re.MULTILINE)
BLOCK = re.compile(r"^```sh\n(.*?)^```\n(?:\n```text\n(.*?)^```\n)?", re.MULTILINE | re.DOTALL)
NUMBER = re.compile(r"\d+(?:\.\d+)?")
SKIPPED = "..."
REFUSED = "nothing was computed"


@dataclass(frozen=True, slots=True)
class Block:
    """One block of commands and the output shown below it, with its place in the page."""

    commands: str
    shown: str
    start: int
    end: int


def blocks(text: str) -> list[Block]:
    """Every block of commands of a page, in order."""
    return [
        Block(found[1], found[2] or "", *(found.span(2) if found[2] else (0, 0)))
        for found in BLOCK.finditer(text)
    ]


def run(commands: str, folder: Path) -> tuple[int, str]:
    """Run commands in a folder; setting up is left out, as the tests run in what it makes.

    Returns
    -------
    tuple of int and str
        Exit code, and what was printed on both streams.
    """
    here = Path(sys.executable).parent
    script = SET_UP.sub("", commands).replace(".venv/bin/", "")
    places = {"PATH": f"{here}{os.pathsep}{os.environ['PATH']}", "COLUMNS": "80"}
    done = subprocess.run(
        ["bash", "-uc", script],
        cwd=folder,
        env={**os.environ, **places},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        timeout=300,
        check=False,
    )
    return done.returncode, done.stdout


def renewed(shown: str, printed: str) -> tuple[str, list[str]]:
    """Shown lines with the numbers printed now, and those that were not printed."""
    left = [line.rstrip() for line in printed.splitlines()]
    result, missing = [], []
    for line in shown.splitlines():
        if line.strip() in ("", SKIPPED):
            result.append(line)
            continue
        place = next((n for n, one in enumerate(left) if _words(one) == _words(line)), None)
        if place is None:
            missing.append(line)
            result.append(line)
        else:
            result.append(left[place])
            del left[: place + 1]
    return "\n".join(result) + "\n", missing


def _words(line: str) -> list[str]:
    """A line without its numbers and its gaps."""
    return NUMBER.sub("0", line).split()


def alike(shown: str, printed: str) -> bool:
    """Whether two lines hold the same numbers, but for a hundredth or the last digit."""
    pairs = zip(NUMBER.findall(shown), NUMBER.findall(printed), strict=True)
    return all(
        abs(float(a) - float(b)) <= max(0.01 * abs(float(b)), 1.01 * 10.0 ** -_places(b))
        for a, b in pairs
    )


def _places(number: str) -> int:
    return len(number.partition(".")[2])


def examine(page: str) -> tuple[str, list[str]]:
    """Run a page's blocks in a fresh copy of the project.

    Returns
    -------
    tuple of str and list of str
        The page with the numbers printed now, and what is wrong with the page as it is.
    """
    text = (ROOT / page).read_text(encoding="utf-8")
    wrong: list[str] = []
    changes: list[tuple[Block, str]] = []
    with tempfile.TemporaryDirectory() as folder:
        copy(Path(folder))
        for block in blocks(text):
            code, printed = run(block.commands, Path(folder))
            expected = (0, 1, 2) if REFUSED in block.shown else (0, 1)
            if code not in expected or "Traceback" in printed:
                wrong.append(f"ended with {code}: {block.commands}{printed}")
            if not block.shown:
                continue
            fresh, missing = renewed(block.shown, printed)
            wrong += [f"not printed: {line}" for line in missing]
            pairs = zip(block.shown.splitlines(), fresh.splitlines(), strict=True)
            wrong += [f"shown: {a}\nis:    {b}" for a, b in pairs if a != b and not alike(a, b)]
            changes.append((block, fresh))
    for block, fresh in reversed(changes):
        text = text[: block.start] + fresh + text[block.end :]
    return text, wrong


def copy(folder: Path) -> None:
    """Copy what the blocks need."""
    for name in COPIED:
        if (ROOT / name).is_dir():
            ignored = shutil.ignore_patterns("__pycache__", "*.pyc")
            shutil.copytree(ROOT / name, folder / name, ignore=ignored)
        else:
            shutil.copy(ROOT / name, folder / name)


def main(arguments: list[str]) -> int:
    """Renew the pages named, or all; or only compare."""
    named = [one for one in arguments if not one.startswith("-")] or list(PAGES)
    wrong = []
    for page in named:
        text, faults = examine(page)
        wrong += [f"{page}: {fault}" for fault in faults]
        if "--check" not in arguments:
            (ROOT / page).write_text(text, encoding="utf-8")
    sys.stdout.write("".join(f"{fault}\n" for fault in wrong))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
