"""A flight as tables: endurance, where the fuel goes, tanks in the order they empty."""

from __future__ import annotations

from plumbing import units
from plumbing.report.fly_text import at_engine, books_rows, endurance_rows, first_out, on_the_way
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.simulation.flight_result import Flown
from plumbing.units import clock

_ML = 1e6
_TANKS = (
    Column("tank"),
    Column("at start", "ml"),
    Column("empty after", "s"),
    Column("left at the end of the flight", "ml"),
    Column("stranded", "ml", 1),
    Column("stranded", "%", 1),
)


def endurance(flown: Flown) -> Table:
    """Endurance sheet."""
    rows: list[tuple[Cell, ...]] = [
        *endurance_rows(flown),
        ("usable fuel left after the stated flight", units.show(flown.landed_with, "volume")),
    ]
    for pump, time in flown.flame_out.items():
        said = "does not stop" if time is None else f"stops after {clock(time)}"
        rows.append((f"engine fed by {pump}, in the stated flight", said))
    for header, first in flown.air_in_header.items():
        most = units.show(flown.header_air[header], "volume", 2)
        said = "none enters" if first is None else f"from {clock(first)} on, at most {most}"
        rows.append((f"air in {header}", said))
    for pump, gasp in flown.air_at_pump.items():
        said = "none arrives"
        if gasp.first is not None:
            said = f"from {clock(gasp.first)}, {gasp.phase}; {at_engine(gasp)}"
        rows.append((f"air at {pump}", said))
        rows.append((f"line to {pump} and its engine", on_the_way(flown, pump)))
    assumed = " (assumed: the file states no flight)" if flown.profile.assumed else ""
    notes = (
        f"Flight: {flown.profile.name}{assumed}. Endurance: the airborne part flown again until "
        "an engine stops. A measured burn replaces every estimate.",
    )
    return Table("endurance", "Endurance", (Column("what"), Column("value")), tuple(rows), notes)


def books(flown: Flown) -> Table:
    """Where the fuel goes: burnt, left and lost."""
    columns = (
        Column("where the fuel goes"),
        Column("stated flight", "ml", 1),
        Column(f"until {first_out(flown)} stops", "ml", 1),
    )
    rows = tuple((name, one * _ML, other * _ML) for name, one, other in books_rows(flown))
    notes = ("On board = burnt + left + lost.",)
    return Table("fuel-books", "Where the fuel goes", columns, rows, notes)


def tanks(flown: Flown) -> Table:
    """Tanks in the order in which they stop giving fuel."""
    run, order = flown.dry_run, dict(flown.order)
    names = [*order, *(name for name in run.tanks if name not in order)]
    rows: list[tuple[Cell, ...]] = []
    for name in names:
        place = run.tanks.index(name)
        held, left = float(run.volume[0, place]), flown.stranded[name]
        rows.append(
            (
                name,
                held * _ML,
                order.get(name),
                float(flown.history.volume[-1, place]) * _ML,
                left * _ML,
                100.0 * left / held if held > 0.0 else None,
            )
        )
    notes = ("Empty after: run until the engines stop. Empty field: the tank gives nothing.",)
    return Table("feed-order", "Feed order", _TANKS, tuple(rows), notes)
