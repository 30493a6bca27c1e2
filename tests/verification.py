"""The page of values that come from outside the program, made from the marks of the tests.

`python -m tests.verification` writes docs/verification.md; `--print` shows it instead.
"""

from __future__ import annotations

import contextlib
import io
import sys
from collections import Counter
from dataclasses import dataclass, field
from itertools import groupby
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PAGE = ROOT / "docs" / "verification.md"

HEAD = """# Verification

Every row is a test whose expected value comes from outside the program: a number printed in a
source, a limit worked by hand, a property, or a second method. *From memory* and *common
practice* say that a value could not be looked up. `python -m tests.verification` writes this page
from the marks in the tests; a test holds it to them.

"""


@dataclass(eq=False)
class Marks:
    """Collects the marks while pytest collects the tests; nothing is run.

    Attributes
    ----------
    cases : Counter of (floor, quantity, source, file, test)
        How many cases of a test carry a mark.
    """

    cases: Counter[tuple[str, str, str, str, str]] = field(default_factory=Counter)

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Note every mark of every test."""
        for item in items:
            for mark in item.iter_markers("outside"):
                file = item.path.relative_to(ROOT).as_posix()
                floor = file.split("/")[1]
                name = getattr(item, "originalname", None) or item.name
                self.cases[floor, *_said(mark), file, name] += 1


def _said(mark: pytest.Mark) -> tuple[str, str]:
    """Quantity and source of a mark, given by place or by name."""
    given = dict(zip(("source", "quantity"), mark.args, strict=False)) | mark.kwargs
    return str(given.get("quantity", "")), str(given["source"])


def collected() -> Marks:
    """Marks of all tests, the browser's as well."""
    marks = Marks()
    wanted = [
        f"--rootdir={ROOT}",
        "-c",
        str(ROOT / "pyproject.toml"),
        "--collect-only",
        "-q",
        "-m",
        "",
        "-p",
        "no:cacheprovider",
        str(ROOT / "tests"),
    ]
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        code = pytest.main(
            [f"--rootdir={ROOT}", "-c", str(ROOT / "pyproject.toml"), *wanted], [marks]
        )
    if code != pytest.ExitCode.OK:
        raise SystemExit(f"the tests could not be collected:\n{said.getvalue()}")
    return marks


def page(marks: Marks) -> str:
    """The page as Markdown."""
    rows = sorted(marks.cases.items())
    tests = len({(file, name) for (_, _, _, file, name) in marks.cases})
    total = sum(marks.cases.values())
    blocks = [HEAD + f"{tests} tests with {total} cases rest on a value from outside.\n"]
    for floor, group in groupby(rows, key=lambda row: row[0][0]):
        kept = list(group)
        cases = sum(count for _, count in kept)
        blocks.append(f"## {floor}\n\n{len(kept)} values, {cases} cases.\n")
        blocks.append("| quantity | source | test | cases |\n| --- | --- | --- | --- |")
        blocks.append("\n".join(_row(*key[1:], count) for key, count in kept) + "\n")
    return "\n".join(blocks)


def _row(quantity: str, source: str, file: str, name: str, count: int) -> str:
    test = f"[{name.removeprefix('test_').replace('_', ' ')}](../{file})"
    return f"| {_cell(quantity)} | {_cell(source)} | {test} | {count} |"


def _cell(text: str) -> str:
    """A text inside a table: one line, no bars, no mark-up."""
    return " ".join(text.split()).replace("|", "\\|").replace("<", "&lt;").replace("*", "\\*")


def main(arguments: list[str]) -> int:
    """Write the page, or print it."""
    text = page(collected())
    if "--print" in arguments:
        sys.stdout.write(text)
    else:
        PAGE.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
