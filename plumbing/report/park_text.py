"""What `plumbing park` prints."""

from __future__ import annotations

import math

import numpy as np

from plumbing import units
from plumbing.model.layout import Layout
from plumbing.report.page import Page
from plumbing.report.words import figure, listed
from plumbing.simulation.parking_result import (
    Around,
    EngineParked,
    OutletParked,
    Parked,
    Parkings,
    Warmed,
)
from plumbing.simulation.vents_result import VentRouted, Vents
from plumbing.units import clock

_STATES = {
    "dry": "vent port in air: nothing runs",
    "above": "outlet above the fuel: nothing runs",
    "runs": "runs out by itself",
    "siphons": "siphons once the line is full of fuel",
    "held": "held by the vacuum behind it, unless air gets in or it is shaken",
    "capped": "capped or plugged",
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
    aside = f"{_angles(parked.pitch, parked.roll)}, {clock(parked.duration)}"
    words = "Parked" if parked.kind == "parked" else "In transport"
    page.heading(f"{words}: {parked.name}", aside)
    if parked.on_board <= 0.0:
        page.paragraph("Without fuel.", indent=2)
        return
    page.paragraph(f"{units.show(parked.on_board, 'volume')} on board.", indent=2)
    for one in parked.outlets:
        page.paragraph(_outlet(one), indent=2)
    for tank, gain in parked.moved.items():
        does = "gains" if gain > 0.0 else "loses"
        page.paragraph(f"{tank} {does} {units.show(abs(gain), 'volume', 2)}.", indent=2)
    if parked.spilt > _DROP:
        page.paragraph(f"{units.show(parked.spilt, 'volume', 2)} run out meanwhile.", indent=2)
    for engine in parked.engines:
        page.paragraph(_engine(engine), indent=2)
    page.paragraph(_heat(parked.warmed), indent=2)


def _angles(pitch: float, roll: float) -> str:
    parts = []
    if pitch:
        parts.append(f"nose {'up' if pitch > 0 else 'down'} {abs(math.degrees(pitch)):.3g} deg")
    if roll:
        side = "starboard" if roll > 0 else "port"
        parts.append(f"{side} down {abs(math.degrees(roll)):.3g} deg")
    return ", ".join(parts) or "level"


def _outlet(one: OutletParked) -> str:
    words = f"{one.tank} at {one.outlet}: {_STATES[one.state]}"
    if one.state in ("dry", "above", "capped"):
        return f"{words}."
    head = units.show(one.head, "length", 2)
    words += f"; {head} of head, {units.show(one.rate, 'flow', 2)} at first"
    lost = units.show(one.loss, "volume", 2)
    if one.state == "held":
        return f"{words} if air gets in; {lost} come out before."
    return f"{words}, {lost} lost in {clock(one.time)}."


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
    words += (
        f", {units.show(one.spilt, 'volume', 2)} of it out of the vent"
        if (one.spilt > _DROP)
        else ", and the air space takes it up"
    )
    if one.brim_full:
        return f"{words}; capped, nothing could take it up."
    most = units.show(one.capped_pressure, "pressure", 2)
    return f"{words}; capped, in walls that do not give, {most}."


def _around(page: Page, around: Around) -> None:
    page.heading("Around level", "all fuel on board, most one vent can lose, ml")
    degrees = [f"{math.degrees(one):.0f}" for one in around.roll]
    page.table(
        ("pitch \\ roll, deg", *degrees),
        [
            (f"{math.degrees(pitch):.0f}", *(_millilitres(loss) for loss in around.loss[row]))
            for row, pitch in enumerate(around.pitch)
        ],
    )
    if (around.runs > _DROP).any():
        row, column = np.unravel_index(int(around.runs.argmax()), around.runs.shape)
        where = _angles(float(around.pitch[row]), float(around.roll[column]))
        most = units.show(float(around.runs[row, column]), "volume", 2)
        page.paragraph(f"Without priming up to {most} run out, {where}.", indent=2)
    elif (around.loss > _DROP).any():
        page.paragraph("Nothing runs unless a vent line is full of fuel.", indent=2)


def _millilitres(volume: float) -> str:
    return f"{1e6 * volume:.0f}" if volume > _DROP else "-"


def _vents(page: Page, vents: Vents) -> None:
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
