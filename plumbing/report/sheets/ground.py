"""Filling, draining and parking as tables."""

from __future__ import annotations

import math
from collections.abc import Iterable

from plumbing.checks.case import Case
from plumbing.report.books_text import books_line, safe_flow_words
from plumbing.report.schedules.table import Cell, Column, Table
from plumbing.report.sheets.missing import missing
from plumbing.results import NotComputed, known
from plumbing.simulation.draining_result import Drained
from plumbing.simulation.filling_result import Filled
from plumbing.simulation.parking_result import Parkings

_ML, _KILO, _ML_PER_MIN = 1e6, 1e-3, 6e7
_FILLED = (
    Column("tank"),
    Column("fuel arrives after", "s"),
    Column("full after", "s"),
    Column("holds", "ml"),
    Column("air trapped", "ml", 1),
    Column("pressure before overflow", "kPa", 2),
    Column("overflow full of fuel", "kPa", 2),
    Column("proved to", "kPa", 1),
)
_PARKED = (
    Column("attitude"),
    Column("nose up", "deg"),
    Column("starboard down", "deg"),
    Column("tank"),
    Column("outlet"),
    Column("what happens"),
    Column("fuel over the outlet", "mm"),
    Column("out of the outlet at first", "ml/min"),
    Column("lost there in the end", "ml"),
)
_DRAINED = (
    Column("through"),
    Column("how"),
    Column("not possible"),
    Column("takes", "s"),
    Column("taken out", "ml"),
    Column("lost overboard", "ml", 1),
    Column("stays", "%", 1),
    Column("stays in"),
    Column("tanks that fold"),
)
WORDS = {
    "dry": "vent port in air",
    "above": "outlet above the fuel",
    "runs": "runs out by itself",
    "siphons": "siphons once primed",
    "held": "held by vacuum",
    "capped": "capped",
}


def fillings(found: Iterable[Filled]) -> tuple[Table, ...]:
    """Filling and overflow sheet, a table a fill port."""
    return tuple(_filling(one) for one in found)


def _filling(one: Filled) -> Table:
    rows: list[tuple[Cell, ...]] = [
        (
            tank.tank,
            tank.begins,
            tank.full,
            tank.holds * _ML,
            tank.trapped * _ML,
            tank.pressure_before * _KILO,
            tank.pressure * _KILO,
            None if tank.rated is None else tank.rated * _KILO,
        )
        for tank in one.tanks.values()
    ]
    title = f"Filling through {one.port}"
    return Table(f"filling {one.port}", title, _FILLED, tuple(rows), tuple(_notes(one)))


def _notes(one: Filled) -> list[str]:
    if one.why_not:
        return [f"Nothing can be filled here: {one.why_not}."]
    assumed = " (assumed)" if one.assumed else ""
    notes = [
        f"At {one.flow * 6e4:.3g} L/min{assumed}: {one.duration:.0f} s until it is full, "
        f"{one.on_board * 1e3:.2f} L on board, {one.port_pressure * _KILO:.1f} kPa at the fill "
        "port in the end."
    ]
    for spill in one.spills:
        waits = f", while {', '.join(spill.filling)} still fills" if spill.filling else ""
        notes.append(f"Fuel runs from {spill.outlet} after {spill.first:.0f} s{waits}.")
    notes.append(f"Where the fuel went: {books_line(one.books)}")
    if one.safe is not None:
        notes.append(
            f"Highest safe filling flow: {safe_flow_words(one.safe)}; no tank comes over half of "
            "what its wall was proved to, with the overflow full of fuel."
        )
    for pushed in one.pushed:
        notes.append(
            f"Towards {pushed.engine} up to {pushed.pressure * _KILO:.1f} kPa is pushed: close the "
            "shut-off first."
        )
    notes.append("Slow down for the last tenth; stop when fuel without bubbles leaves; write the "
                 "litres down.")  # fmt: skip
    return notes


def drainings(found: Iterable[Drained]) -> Table | None:
    """Draining sheet; None where nothing can be drained."""
    rows: list[tuple[Cell, ...]] = [
        (
            one.place,
            "sucked" if one.sucked else "runs out",
            one.why_not or "",
            None if one.why_not else one.duration,
            one.books.taken * _ML,
            one.books.gone * _ML,
            one.left_share * 100.0,
            ", ".join(f"{tank} {left * _ML:.0f} ml" for tank, left in one.books.left.items()),
            ", ".join(one.flat),
        )
        for one in found
    ]
    if not rows:
        return None
    notes = ("Vents open. Walls that fold do so at the suction on the way, as far as it is known.",)
    return Table("draining", "Draining", _DRAINED, tuple(rows), notes)


def parkings(found: Parkings) -> Table | None:
    """Parking and transport sheet; None without attitudes."""
    rows: list[tuple[Cell, ...]] = [
        (
            parked.name,
            math.degrees(parked.pitch),
            math.degrees(parked.roll),
            way.tank,
            way.outlet,
            WORDS[way.state],
            way.head * 1e3,
            lost.rate * _ML_PER_MIN if lost else 0.0,
            lost.in_the_end * _ML if lost else 0.0,
        )
        for parked in found.attitudes.values()
        for way in parked.ways
        for lost in [parked.lost.get(way.outlet)]
    ]
    if not rows:
        return None
    notes = [
        f"Where the fuel went, {parked.name}: {books_line(parked.books)}"
        for parked in found.attitudes.values()
        if parked.lost
    ]
    notes.append("Vents dry or full of fuel at the start, whichever loses more. Empty it before "
                 "travel.")  # fmt: skip
    return Table("parking", "Parking and transport", _PARKED, tuple(rows), tuple(notes))


def ground_sheets(case: Case) -> list[Table]:
    """Filling, draining and parking sheets of a layout."""
    drained = drainings(case.draining.values())
    parked = case.parking
    standing = parkings(parked) if known(parked) else None
    not_parked = (parked,) if isinstance(parked, NotComputed) else parked.attitudes.missing
    more = [one for one in (drained, standing) if one is not None]
    reasons = missing(case.filling.missing, case.draining.missing, not_parked)
    return [*fillings(case.filling.values()), *more, *reasons]
