"""Writes docs/dependencies.md: what the program stands on, within which versions, by whose licence.

`python -m tests.dependencies` renews the page; `--print` only prints it; `--lowest` prints the
lowest version of everything, as `pip install` takes it.
"""

from __future__ import annotations

import re
import sys
import tomllib
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).parent.parent
PAGE = ROOT / "docs" / "dependencies.md"

FOR = {
    "click": "command line",
    "contourpy": "contours of the tilt map",
    "dask": "studies on a cluster",
    "distributed": "studies on a cluster",
    "ezdxf": "drill templates as DXF",
    "fluids": "loss coefficients",
    "graphviz": "source of the schematic",
    "jinja2": "the report's page",
    "networkx": "the fuel system as a graph",
    "numpy": "all numbers",
    "pint": "unusual units",
    "pyarrow": "studies as Parquet",
    "pygraphviz": "places of the schematic",
    "pyyaml": "layout files, read quickly",
    "rich": "terminal",
    "ruamel.yaml": "layout files with a fault, or changed in place",
    "scipy": "large networks, quasi-random samples",
    "trimesh": "tanks from STL",
    "typst": "PDF and PNG",
}

HEAD = """\
# Dependencies

Made by `python -m tests.dependencies` from `pyproject.toml` and from what the installed packages
say of themselves. The lower end of each range is the lowest version with which the smoke set of
`.ci/lowest` passes; the upper end keeps out the next version that may break what is relied upon.
The gate (`.ci/run`) sets up the newest versions within the ranges.

None of these needs a package of the operating system. The program's own licence is MIT; the fonts
it carries (DejaVu Sans) have their own, beside them in `plumbing/drawing/fonts`.
"""


def project() -> dict[str, object]:
    """The project's table of pyproject.toml."""
    table: dict[str, object] = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    return table


def wanted(group: str | None = None) -> list[tuple[str, str]]:
    """Names and ranges of the dependencies, or of an extra."""
    table = project()
    listed = table["optional-dependencies"][group] if group else table["dependencies"]
    pairs = (re.fullmatch(r"([\w.-]+)(.*)", one) for one in listed)
    return [(found[1], found[2]) for found in pairs if found]


def licence(name: str) -> str:
    """Licence as the installed package states it."""
    said = metadata.metadata(name)
    if said.get("License-Expression"):
        return said["License-Expression"]
    marks = [one for one in said.get_all("Classifier") or [] if one.startswith("License ::")]
    if marks:
        return marks[0].rpartition(":: ")[2].removesuffix(" License")
    return (said.get("License") or "not stated").splitlines()[0]


def table(pairs: list[tuple[str, str]]) -> str:
    """A row a package."""
    rows = ["| package | versions | for | licence |", "| --- | --- | --- | --- |"]
    rows += [
        f"| {name} | {span.replace(',', ', ')} | {FOR[name]} | {licence(name)} |"
        for name, span in pairs
    ]
    return "\n".join(rows) + "\n"


def page() -> str:
    """The whole page."""
    extras = wanted("cluster") + wanted("parquet")
    return "\n".join([HEAD, table(wanted()), "## Extras: `cluster`, `parquet`\n", table(extras)])


def lowest() -> str:
    """The lower end of every range, exactly."""
    pairs = wanted() + wanted("cluster") + wanted("parquet")
    return "\n".join(f"{name}=={re.search(r'>=([^,]+)', span)[1]}" for name, span in pairs) + "\n"


def main() -> None:
    """Write or print."""
    if "--lowest" in sys.argv:
        sys.stdout.write(lowest())
    elif "--print" in sys.argv:
        sys.stdout.write(page())
    else:
        PAGE.write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main()
