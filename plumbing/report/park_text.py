"""What `plumbing park` prints."""

from __future__ import annotations

import math

from plumbing import units
from plumbing.model.layout import Layout
from plumbing.report.books_text import books_line
from plumbing.report.page import Page
from plumbing.report.words import attitude, figure, listed
from plumbing.simulation.parking_result import (
    Around,
    EngineParked,
    Lost,
    Parked,
    Parkings,
    Warmed,
    WayParked,
)
from plumbing.simulation.vents_result import VentRouted, Vents
from plumbing.units import clock

_STATES = {
    "dry": "vent port in air: nothing runs",
    "above": "outlet above the fuel: nothing runs",
    "runs": "runs out by itself",
    "siphons": "siphons once the line is full of fuel",
    "held": "held by the suction behind it, unless air gets in or it is shaken",
    "capped": "capped, plugged or closed by a valve",
}
_DROP = 5e-7  # [m3]


def park_text(layout: Layout, parkings: Parkings, width: int = 80, colour: bool = False) -> str:
    """Write every attitude, those around level, and the vents.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    park_section(page, parkings)
    page.caution()
    return page.text()


def park_section(page: Page, parkings: Parkings) -> None:
    """Write attitudes, the sweep and the vents."""
    for why in parkings.attitudes.missing:
        page.not_computed(why)
    for parked in parkings.attitudes.values():
        _attitude(page, parked)
    _around(page, parkings.around)
    _vents(page, parkings.vents)


def _attitude(page: Page, parked: Parked) -> None:
    aside = f"{attitude(parked.pitch, parked.roll)}, {clock(parked.duration)}"
    words = "Parked" if parked.kind == "parked" else "In transport"
    page.heading(f"{words}: {parked.name}", aside)
    if parked.on_board <= 0.0:
        page.paragraph("Without fuel.", indent=2)
        return
    page.paragraph(f"{units.show(parked.on_board, 'volume')} on board.", indent=2)
    for one in parked.ways:
        page.paragraph(_way_parked(one), indent=2)
    for outlet, lost in parked.lost.items():
        page.paragraph(_lost(outlet, lost, parked.duration), indent=2)
    for tank, gain in parked.moved.items():
        does = "gains" if gain > 0.0 else "loses"
        page.paragraph(f"{tank} {does} {units.show(abs(gain), 'volume', 2)}.", indent=2)
    if parked.lost:
        full = f"{listed(parked.full)} full of fuel" if parked.full else "every vent dry"
        page.paragraph(f"The worst start is that with {full}.", indent=2)
        after = f"After {clock(parked.duration)}: {books_line(parked.books)}"
        page.paragraph(after, indent=2)
        if parked.lasts > parked.duration:
            page.paragraph(f"In the end: {books_line(parked.final)}", indent=2)
    for engine in parked.engines:
        page.paragraph(_engine(engine), indent=2)
    page.paragraph(_heat(parked.warmed), indent=2)


def _way_parked(one: WayParked) -> str:
    words = f"{one.tank} at {one.outlet}: {_STATES[one.state]}"
    if one.state in ("dry", "above", "capped"):
        return f"{words}."
    return f"{words}; {units.show(one.head, 'length', 2)} of head."


def _lost(outlet: str, one: Lost, duration: float) -> str:
    words = f"Out of {outlet}: {units.show(one.rate, 'flow', 2)} at first"
    if one.time > duration:
        words += f", {units.show(one.meanwhile, 'volume', 2)} in {clock(duration)}"
    in_the_end = units.show(one.in_the_end, "volume", 2)
    return f"{words}, {in_the_end} in the end, all but a hundredth in {clock(one.time)}."


def _engine(one: EngineParked) -> str:
    if one.over_engine <= 0.0:
        below = units.show(-one.over_engine, "length", 2)
        return f"{one.engine}: the fuel stands {below} below it."
    words = (
        f"{one.engine}: fuel in {one.tank} stands {units.show(one.over_engine, 'length', 2)} over "
        "it"
    )
    rate = None if one.open_rate is None else units.show(60.0 * 60.0 * one.open_rate, "volume", 2)
    if one.shut:
        leaks = "" if rate is None else f" (open, {rate} an hour would leak through {one.pump})"
        return f"{words}, {listed(one.shut)} closed{leaks}."
    if one.leaked is None:
        return f"{words} with every valve open; the leak of {one.pump or 'the pump'} is not stated."
    return f"{words} with every valve open: {units.show(one.leaked, 'volume', 2)} leak in."


def _heat(one: Warmed) -> str:
    grown = units.show(one.grown, "volume", 2)
    words = (
        f"Warmed from {one.celsius_from:.3g} to {one.celsius_to:.3g} degC the fuel grows by {grown}"
    )
    if one.spilt <= _DROP and not any(one.capped_pressure.values()):
        return f"{words}, which a bag takes up."
    words += (
        f", {units.show(one.spilt, 'volume', 2)} of it out of the vent"
        if (one.spilt > _DROP)
        else ", and the air space takes it up"
    )
    if one.brim_full:
        where = "" if len(one.brim_full) == len(one.capped_pressure) else listed(one.brim_full)
        return f"{words}; capped, nothing{f' in {where}' if where else ''} could take it up."
    tanks: dict[float, list[str]] = {}
    for tank, most in one.capped_pressure.items():
        tanks.setdefault(most, []).append(tank)
    each = "; ".join(
        units.show(most, "pressure", 2) + (f" in {listed(names)}" if len(tanks) > 1 else "")
        for most, names in tanks.items()
    )
    return f"{words}; capped, with rigid walls, {each}."


def _around(page: Page, around: Around) -> None:
    page.heading("Around level", "all fuel on board, highest fuel over any engine, mm")
    degrees = [f"{math.degrees(one):.0f}" for one in around.roll]
    page.table(
        ("pitch \\ roll, deg", *degrees),
        [
            (f"{math.degrees(pitch):.0f}", *(f"{1e3 * head:.0f}" for head in around.head[row]))
            for row, pitch in enumerate(around.pitch)
        ],
    )


def _vents(page: Page, vents: Vents) -> None:
    if not (vents.ways or vents.pressures or vents.unknown):
        return
    page.heading("Vents")
    for way in vents.ways:
        page.paragraph(_way(way), indent=2)
    for one in vents.pressures:
        source = "" if one.stated else ", by its facing"
        page.paragraph(
            f"{one.outlet}: {figure(one.pressure)} at {units.show(vents.airspeed, 'speed')}"
            f"{source}.",
            indent=2,
        )
    for name in vents.unknown:
        page.paragraph(f"{name}: pressure not known, it states no facing.", indent=2)
    for uneven in vents.uneven:
        high, low = uneven.outlets
        page.paragraph(f"{high} and {low} differ by {figure(uneven.difference)}.", indent=2)


def _way(way: VentRouted) -> str:
    words = f"{way.tank} to {way.outlet}: {len(way.highs)} high, {len(way.lows)} low points"
    if way.low_at is None:
        return f"{words}; holds no fuel."
    place = f"x = {units.show(way.low_at[0], 'length')}"
    attitude = max(way.sags, key=lambda name: way.sags[name])
    words += f"; deepest {units.show(way.sags[attitude], 'length', 2)} ({attitude}) at {place}"
    if way.slug <= 0.0:
        return f"{words}; it drains in flight."
    return f"{words}; full of fuel it costs {units.show(way.slug, 'pressure', 2)}, {way.slug_when}."
