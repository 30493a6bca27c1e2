"""What `plumbing tilt` prints, and the same as JSON."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from plumbing import units
from plumbing.model.layout import Layout
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.page import Page
from plumbing.report.sweep_schema import tilt_schema
from plumbing.simulation.tilt_result import Leaning, TiltMap

MEANING = (
    "Unusable is the fuel below which the opening that feeds draws air. It counts the fuel at "
    "rest: for how long a tank may draw air depends on the header behind it; `plumbing fly` "
    "tells."
)


def tilt_text(layout: Layout, found: TiltMap, width: int = 80, colour: bool = False) -> str:
    """Write the unusable fuel of every tank, and the worst attitudes.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    page.heading("Unusable fuel", _envelope_words(found))
    page.paragraph(MEANING, indent=2)
    page.blank()
    page.table(("tank", "fed by", "level", "worst flown", "worst anywhere", "of"), _tanks(found), 2)
    for name in found.unfed:
        page.paragraph(f"{name}: feeds no engine, and is left out", indent=2)
    for tank in (None, *found.tanks) if len(found.tanks) > 1 else found.tanks:
        page.heading(f"Worst attitudes, {tank or 'all tanks together'}")
        page.table(("where", "pitch", "roll", "for", "unusable", "share"), _rows(found.worst(tank)))
    page.caution()
    return page.text()


def _envelope_words(found: TiltMap) -> str:
    if found.assumed:
        return "assumed: the file states no flight"
    return "flight " + ", ".join(found.flights) if len(found.flights) == 1 else "all flights"


def _tanks(found: TiltMap) -> list[tuple[str, ...]]:
    rows = [
        (tank, ", ".join(ports), *_figures(found, tank))
        for tank, ports in zip(found.tanks, found.ports, strict=True)
    ]
    return [*rows, ("all together", "", *_figures(found, None))] if len(rows) > 1 else rows


def _figures(found: TiltMap, tank: str | None) -> tuple[str, ...]:
    flown = [one.volume for one in found.worst(tank, len(found.envelope.name)) if not one.parked]
    values = (found.level(tank), max(flown, default=0.0), float(found.over(tank).max()))
    return (*(_millilitres(value) for value in values), units.show(found.room(tank), "volume"))


def _millilitres(volume: float) -> str:
    return units.show(volume, "volume", 3 if volume >= 1e-4 else 2)


def _rows(worst: Sequence[Leaning]) -> list[tuple[str, ...]]:
    return [
        (
            one.name,
            _degrees(one.pitch),
            _degrees(one.roll),
            units.show(one.seconds, "time") if one.seconds < 600 else f"{one.seconds / 60:.0f} min",
            _millilitres(one.volume),
            f"{one.share:.0%}",
        )
        for one in worst
    ]


def _degrees(angle: float) -> str:
    return f"{round(math.degrees(angle)) + 0} deg"


def tilt_json(layout: Layout, found: TiltMap) -> str:
    """Write the maps and the worst attitudes as JSON, in SI with the unit in the name."""
    return json_text(tilt_data(layout, found))


def tilt_data(layout: Layout, found: TiltMap) -> dict[str, Any]:
    """Give the same as plain data."""
    data = {
        "title": layout.title,
        "file": layout.place.file,
        "flights": found.flights,
        "flights_assumed": found.assumed,
        "pitch_rad": found.pitch,
        "roll_rad": found.roll,
        "all": _map(found, None),
        "tanks": {
            tank: {"ports": ports, **_map(found, tank)}
            for tank, ports in zip(found.tanks, found.ports, strict=True)
        },
        "without_feed": found.unfed,
    }
    tilted: dict[str, Any] = keyed(data, tilt_schema())
    return tilted


def _map(found: TiltMap, tank: str | None) -> dict[str, Any]:
    return {
        "capacity_m3": found.room(tank),
        "level_m3": found.level(tank),
        "unusable_m3": found.over(tank),
        "worst": found.worst(tank),
    }
