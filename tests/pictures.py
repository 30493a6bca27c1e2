"""The pictures of the manual, drawn from the demo aircraft.

`python -m tests.pictures` writes them to docs/pictures.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from plumbing import api
from plumbing.drawing.elevations import elevation
from plumbing.drawing.export import to_png
from plumbing.drawing.flight_plot import flight_plot
from plumbing.drawing.tilt_plot import tilt_plot
from plumbing.results import got

ROOT = Path(__file__).parent.parent
FOLDER = ROOT / "docs" / "pictures"
DPI = 110.0


def _schematic(name: str) -> str:
    return api.draw(ROOT / "layouts" / f"{name}.yaml")


def _side(name: str) -> str:
    examined = api.check(ROOT / "layouts" / f"{name}.yaml")
    case = examined.case
    surfaces = got(case.flight).surfaces_at_reserve
    return elevation(case.layout, case.survey, "side", examined.causes, surfaces=surfaces)


def _flight(name: str) -> str:
    layout = api.load(ROOT / "layouts" / f"{name}.yaml")
    return flight_plot(layout, api.fly(layout), dry_run=True)


def _tilt(name: str) -> str:
    layout = api.load(ROOT / "layouts" / f"{name}.yaml")
    return tilt_plot(layout, api.tilt(layout))


PICTURES: dict[str, tuple[Callable[[str], str], str]] = {
    "teed": (_schematic, "teed-pair"),
    "chained": (_schematic, "chained-pair"),
    "side": (_side, "chained-pair"),
    "flight": (_flight, "teed-pair"),
    "tilt": (_tilt, "chained-pair"),
    "bad": (_schematic, "bad"),
}


def main(wanted: list[str]) -> None:
    """Write the pictures asked for, or all."""
    FOLDER.mkdir(exist_ok=True)
    for name in wanted or PICTURES:
        draw, layout = PICTURES[name]
        (FOLDER / f"{name}.png").write_bytes(to_png(draw(layout), DPI))


if __name__ == "__main__":
    main(sys.argv[1:])
