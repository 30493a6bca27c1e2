"""What `plumbing fill` prints."""

from __future__ import annotations

from plumbing import units
from plumbing.model.layout import Layout
from plumbing.report.books_text import books_line, safe_flow_words
from plumbing.report.page import Page
from plumbing.report.words import attitude, listed
from plumbing.simulation.draining_result import Drained
from plumbing.simulation.filling_result import Filled, TankFilled
from plumbing.simulation.fuelling import Fuelling
from plumbing.units import clock

_QUARTERS = (0.25, 0.5, 0.75, 1.0)
_DROP = 5e-7  # less than half a millilitre is not told [m3]


def fill_text(layout: Layout, fuelling: Fuelling, width: int = 80, colour: bool = False) -> str:
    """Write filling and draining: order, times, pressures, safe flow, what stays.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    page.partial(fuelling.partial)
    fill_section(page, fuelling)
    page.caution()
    return page.text()


def fill_section(page: Page, fuelling: Fuelling) -> None:
    """Write filling through every port, then draining."""
    for why in fuelling.filled.missing:
        page.not_computed(why)
    for filled in fuelling.filled.values():
        _filled(page, filled)
    if fuelling.drained:
        first = next(iter(fuelling.drained.values()))
        page.heading("Draining", attitude(first.pitch, first.roll))
    for drained in fuelling.drained.values():
        _drained(page, drained)
    for why in fuelling.drained.missing:
        page.not_computed(why)


def _filled(page: Page, filled: Filled) -> None:
    flow = units.show(filled.flow, "flow") + (" assumed" if filled.assumed else "")
    page.heading(f"Filling at {filled.port}", flow)
    if filled.why_not:
        page.paragraph(f"Nothing can be filled here: {filled.why_not}.", indent=2)
        if filled.closed_pressure is not None:
            most = units.show(filled.closed_pressure, "pressure")
            page.paragraph(f"The pressure rises to that of the pump, {most}.", indent=2)
        return
    page.table(
        ("tank", "begins", "full", "fuel", "air left", "pressure", "proved to"),
        [_tank(one) for one in filled.tanks.values()],
    )
    page.paragraph(
        "Pressure is the highest at the tank's lowest point, the overflow full of fuel.", indent=2
    )
    for tank, why in filled.missed.items():
        page.paragraph(f"{tank} gets no fuel: {why}.", indent=2)
    page.blank()
    _ends(page, filled)
    page.blank()
    page.line("  Filled in part", bold=True)
    page.table(*_parts(filled))
    _backwards(page, filled)


def _tank(one: TankFilled) -> tuple[str, ...]:
    return (
        one.tank,
        _when(one.begins),
        _when(one.full),
        units.show(one.holds, "volume"),
        units.show(one.trapped, "volume", 2) if one.trapped > _DROP else "none",
        units.show(one.pressure, "pressure", 2),
        "not stated" if one.rated is None else units.show(one.rated, "pressure", 2),
    )


def _when(seconds: float | None) -> str:
    return "never" if seconds is None else clock(seconds)


def _ends(page: Page, filled: Filled) -> None:
    """How filling ends: on board, overflow, pump, flow that is safe."""
    board = units.show(filled.on_board, "volume")
    page.paragraph(f"{board} on board after {clock(filled.duration)}.", indent=2)
    page.paragraph(books_line(filled.books), indent=2)
    for spill in filled.spills:
        count = len(spill.filling)
        still = f"; {listed(spill.filling)} still {'fills' if count == 1 else 'fill'}" * bool(count)
        when = clock(spill.first)
        page.paragraph(f"Fuel leaves {spill.outlet} after {when}{still}.", indent=2)
    if not filled.spills:
        page.paragraph("No fuel leaves any outlet: nothing shows when to stop.", indent=2)
    pressure = units.show(filled.port_pressure, "pressure", 2)
    page.paragraph(f"Pressure at the fill port in the end: {pressure}.", indent=2)
    if filled.pump_limits is not None:
        left = units.show(filled.pump_limits, "flow", 2)
        page.paragraph(f"The filling pump then gives only {left}.", indent=2)
    safe = filled.safe
    if safe is not None:
        page.paragraph(f"Highest safe filling flow: {safe_flow_words(safe)}.", indent=2)
    if filled.closed_pressure is not None:
        most = units.show(filled.closed_pressure, "pressure")
        page.paragraph(f"Against a closed vent the pump brings every tank to {most}.", indent=2)


def _parts(filled: Filled) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """What each tank holds once a quarter, a half and so on is pushed in: heads and rows."""
    pushes = [share * filled.on_board for share in _QUARTERS]
    held = [filled.at(pushed) for pushed in pushes[:-1]] + [filled.at(filled.pushed_in[-1])]
    heads = ("pushed in", *(units.show(pushed, "volume") for pushed in pushes))
    return heads, [
        (name, *(units.show(one[name], "volume") for one in held)) for name in filled.tanks
    ]


def _backwards(page: Page, filled: Filled) -> None:
    for kind, names in (
        ("filter", filled.reversed_filters),
        ("fine-pore pickup", filled.reversed_pickups),
    ):
        for name in names:
            page.paragraph(f"Fuel goes backwards through the {kind} {name}.", indent=2)
    for pushed in filled.pushed:
        pressure = units.show(pushed.pressure, "pressure", 2)
        leaks = (
            "its leak is not stated"
            if pushed.volume is None
            else f"{units.show(pushed.volume, 'volume', 2)} leak through it"
        )
        page.paragraph(
            f"Up to {pressure} stands at the stopped {pushed.pump}; {leaks} towards "
            f"{pushed.engine}.",
            indent=2,
        )


def _drained(page: Page, drained: Drained) -> None:
    if drained.why_not:
        page.paragraph(f"{drained.place}: nothing comes out: {drained.why_not}.", indent=2)
    else:
        how = "drawn" if drained.sucked else "runs out"
        left = [
            f"{units.show(volume, 'volume', 2)} in {tank}"
            for tank, volume in drained.books.left.items()
            if volume > _DROP
        ]
        page.paragraph(
            f"{drained.place}: {units.show(drained.books.taken, 'volume')} {how} in "
            f"{clock(drained.duration)} at {units.show(drained.flow, 'flow', 2)}; "
            f"{drained.left_share:.1%} stays" + (f": {', '.join(left)}." if left else "."),
            indent=2,
        )
        page.paragraph(books_line(drained.books), indent=4)
    for tank in drained.flat:
        suction = units.show(drained.suction[tank], "pressure", 2)
        page.paragraph(f"{tank} is sucked flat on the way, at {suction}.", indent=4)
    if drained.flat_vent_closed:
        tank, volume = min(drained.flat_vent_closed.items(), key=lambda pair: pair[1])
        least = units.show(volume, "volume", 2)
        page.paragraph(f"With the vent closed {tank} folds after {least}.", indent=4)
