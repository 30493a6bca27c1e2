"""The page of sources: every source cited in code, tables and checks, with its standing.

`python -m tests.sources` writes docs/sources.md from the citations and docs/publications.csv;
`--print` shows it instead. A citation that matches no row and admits no standing stops it.
"""

from __future__ import annotations

import ast
import csv
import re
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from plumbing.checks.registry import checks

ROOT = Path(__file__).parent.parent
PAGE = ROOT / "docs" / "sources.md"
REGISTER = ROOT / "docs" / "publications.csv"
STANDINGS = ("from memory", "common practice")

HEAD = """# Sources

Where the numbers come from. This page is made by `python -m tests.sources` from what the code,
the tables and the checks cite, and from [publications.csv](publications.csv), which says how far
each source was seen. How the program's results are held to sources is in
[verification.md](verification.md).

| standing | meaning |
| --- | --- |
| looked up | a public copy was read, often a mirror or a library that prints it, not the official |
| from memory | known from handbooks, not seen again: check it before you rely on it |
| common practice | the trade's own; no document binds it, and builders differ |
| textbook law, computed | follows from the laws of mechanics, gases and fluids |

"""


@dataclass(frozen=True, slots=True)
class Citation:
    """One place that names a source.

    Attributes
    ----------
    text : str
        What it says.
    place : str
        Where: a check, a row of a table or a function.
    kind : str
        `check`, `table` or `code`.
    """

    text: str
    place: str
    kind: str


def citations() -> list[Citation]:
    """Every citation in the package, in order of place."""
    return [*_of_checks(), *_of_tables(), *_of_code()]


def _of_checks() -> Iterator[Citation]:
    for check in checks():
        yield Citation(check.source, check.name, "check")


def _of_tables() -> Iterator[Citation]:
    for path in sorted((ROOT / "plumbing").rglob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            for text in sorted({row["source"] for row in csv.DictReader(file)}):
                yield Citation(text, path.name, "table")


def _of_code() -> Iterator[Citation]:
    kinds = (ast.FunctionDef, ast.ClassDef, ast.Module)
    for path in sorted((ROOT / "plumbing").rglob("*.py")):
        module = ".".join(path.relative_to(ROOT / "plumbing").with_suffix("").parts)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, kinds):
                continue
            found = re.search(
                r"References\n-+\n(.*?)(?:\n\n\w[^\n]*\n---|\Z)",
                ast.get_docstring(node) or "",
                re.S,
            )
            if found:
                name = module if isinstance(node, ast.Module) else f"{module}.{node.name}"
                yield Citation(" ".join(found[1].split()), name, "code")


def page() -> str:
    """The page as Markdown.

    Raises
    ------
    SystemExit
        A citation matches nothing, or a row of the register is cited nowhere.
    """
    with REGISTER.open(encoding="utf-8", newline="") as file:
        register = list(csv.DictReader(file))
    cited: dict[str, list[Citation]] = defaultdict(list)
    loose = []
    for one in citations():
        rows = [row for row in register if any(w in one.text for w in row["words"].split("|"))]
        for row in rows:
            cited[row["publication"]].append(one)
        if not rows and not any(word in one.text for word in STANDINGS):
            loose.append(f"{one.place}: {one.text}")
    if loose:
        raise SystemExit("\n".join(["add to docs/publications.csv what these cite:", *loose]))
    unused = [row["publication"] for row in register if row["publication"] not in cited]
    if unused:
        raise SystemExit("\n".join(["cited nowhere, take out of docs/publications.csv:", *unused]))
    return HEAD + "\n".join([_publications(register, cited), *map(_admitted, STANDINGS)])


def _publications(register: list[dict[str, str]], cited: dict[str, list[Citation]]) -> str:
    lines = ["## Publications", "", "| source | standing | note | cited by |"]
    lines.append("| --- | --- | --- | --- |")
    for row in sorted(register, key=lambda row: row["publication"].lower()):
        places = _places(cited[row["publication"]])
        lines.append(f"| {row['publication']} | {row['standing']} | {row['note']} | {places} |")
    return "\n".join([*lines, ""])


def _places(found: list[Citation]) -> str:
    names = sorted({one.place for one in found})
    linked = {one.place: one.kind == "check" for one in found}
    shown = [f"[{name}](checks.md#{name})" if linked[name] else f"`{name}`" for name in names[:6]]
    rest = len(names) - len(shown)
    return ", ".join(shown) + (f" and {rest} more" if rest else "")


def _admitted(standing: str) -> str:
    """What says of itself that it is from memory, or common practice."""
    found = [one for one in citations() if standing in one.text]
    lines = [f"## {standing.capitalize()}", ""]
    for kind, words in (("code", "Functions"), ("table", "Tables"), ("check", "Checks")):
        names = sorted({one.place for one in found if one.kind == kind})
        if names:
            shown = (f"[{n}](checks.md#{n})" if kind == "check" else f"`{n}`" for n in names)
            lines += [f"{words} that rest on it, wholly or in part ({len(names)}):", ""]
            lines += [", ".join(shown), ""]
    return "\n".join(lines)


def main(arguments: list[str]) -> int:
    """Write the page, or print it."""
    text = page()
    if "--print" in arguments:
        sys.stdout.write(text)
    else:
        PAGE.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
