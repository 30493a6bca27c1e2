"""What `plumbing fly` prints."""

from __future__ import annotations

from plumbing import units
from plumbing.checks.flown import why_stopped
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array
from plumbing.report.page import Page
from plumbing.report.words import opening, shown
from plumbing.simulation.flight_result import Flown, Gasp
from plumbing.units import clock

_DROP = 5e-8  # less fuel than this is not told [m3]
_MOST_LOST = 6  # phases named
_STEPS = {"pressure": 10.0, "length": 1e-3, "moment": 1e-2}  # finer than that is not said [SI]


def fly_text(layout: Layout, flown: Flown, width: int = 80, colour: bool = False) -> str:
    """Write a flight's result: what it comes to, order, air, what is left, balance.

    Returns
    -------
    str
        Text without a final line break.
    """
    page = Page.about(layout, width, colour)
    flight_section(page, flown)
    page.heading("Where the fuel goes")
    head = ("", "this flight", f"until {first_out(flown)} stops")
    page.table(head, [(name, *map(_ml, parts)) for name, *parts in books_rows(flown)])
    page.heading("Air")
    _air(page, flown)
    if flown.profile.surface is not None:
        page.heading("Slosh", "how long some of a pickup is out of fuel in this flight")
        page.table(("pickup", "as flown", "with surfaces that follow at once"), _slosh(flown))
    page.heading("On the way")
    page.table(("", "least", "most"), _ranges(flown))
    if flown.profile.assumptions:
        page.heading("Assumed", "for what the flight does not say")
        for one in flown.profile.assumptions:
            page.paragraph(f"{one.what}: {one.value} ({one.source})", indent=2)
    page.caution()
    return page.text()


def flight_section(page: Page, flown: Flown) -> None:
    """Write how the flight ends, the endurance, and what each tank gives and keeps."""
    assumed = "assumed: the file states no flight" if flown.profile.assumed else ""
    page.heading(f"Flight: {flown.profile.name}", assumed)
    _outcome(page, flown)
    page.blank()
    page.line("  Endurance, the airborne part flown again until an engine stops", bold=True)
    page.table(("", ""), endurance_rows(flown))
    page.blank()
    page.line("  Tanks, in the order they stop giving fuel", bold=True)
    _tanks(page, flown)


def first_out(flown: Flown) -> str:
    """The engine that stops first in the dry run, by its name where there are several."""
    several = len(flown.dry_books.burnt) > 1
    return flown.stops_first if several and flown.stops_first else "an engine"


def books_rows(flown: Flown) -> list[tuple[str, float, float]]:
    """What was on board and where it went [m3]: in the stated flight, and until an engine stops.

    Of many phases in which fuel is lost the worst are named.
    """
    one, other = flown.books, flown.dry_books

    rows = [("on board at start", one.start, other.start)]
    rows += [(f"burnt by {name}", one.burnt[name], other.burnt[name]) for name in one.burnt]
    rows += [(f"left in {name}", one.left[name], other.left[name]) for name in one.left]
    keys = dict.fromkeys([*one.lost, *other.lost])
    lost = {key: (one.lost.get(key, 0.0), other.lost.get(key, 0.0)) for key in keys}
    worst = sorted(lost, key=lambda key: -max(lost[key]))
    for outlet, phase in worst[:_MOST_LOST]:
        rows.append((f"lost at {shown(opening(outlet))}, {shown(phase)}", *lost[outlet, phase]))
    rest = [lost[key] for key in worst[_MOST_LOST:]]
    if rest:
        rows.append(("lost in other phases", sum(a for a, _ in rest), sum(b for _, b in rest)))
    return rows


def _ml(volume: float) -> str:
    return f"{1e6 * volume:.1f} ml"


def _outcome(page: Page, flown: Flown) -> None:
    stops = {pump: time for pump, time in flown.flame_out.items() if time is not None}
    for pump, time in stops.items():
        phase = flown.air_at_pump[pump].phase
        air = f" (air first arrives in the phase `{phase}`)" if phase else ""
        page.paragraph(
            f"The engine fed by {pump} stops after {clock(time)}: "
            f"{why_stopped(flown, pump, time)}{air}.",
            indent=2,
        )
    if not stops:
        left = units.show(flown.landed_with, "volume")
        need = units.show(flown.reserve, "volume")
        page.paragraph(
            f"Flown to the end in {clock(flown.duration)}, with {left} of usable fuel "
            f"left; the reserve is {need}.",
            indent=2,
        )
    lost = flown.books.gone
    if lost > _DROP:
        page.paragraph(f"{units.show(lost, 'volume')} of fuel are lost overboard.", indent=2)


def endurance_rows(flown: Flown) -> list[tuple[str, str]]:
    """What the endurance comes to, and from what: words and value."""
    return [
        ("fuel on board", units.show(flown.on_board, "volume")),
        (f"usable: burnt until {first_out(flown)} stops", units.show(flown.usable, "volume")),
        ("reserve to land with", units.show(flown.reserve, "volume")),
        ("mean flow in the air", units.show(flown.mean_flow, "flow")),
        (f"in the air until {first_out(flown)} stops", clock(flown.endurance)),
        ("in the air until only the reserve is left", clock(flown.to_reserve)),
        ("timer to set, from take-off", clock(flown.timer)),
    ]


def _tanks(page: Page, flown: Flown) -> None:
    start, order = flown.dry_run.volume[0], dict(flown.order)
    names = [*order, *(name for name in flown.stranded if name not in order)]
    rows = []
    for name in names:
        held = float(start[flown.dry_run.tanks.index(name)])
        left = flown.stranded[name]
        share = f"{left / held:.0%}" if held > 0 else ""
        when = clock(order[name]) if name in order else "gives nothing"
        rows.append((name, units.show(held, "volume"), when, units.show(left, "volume", 2), share))
    page.table(("tank", "at start", "empty after", "stranded", "of it"), rows)
    for one in flown.pockets:
        ridge = units.show(one.ridge, "length", 2)
        page.paragraph(
            f"{one.tank}: {units.show(one.volume, 'volume', 2)} of it lie in a pocket without a "
            f"pickup at {units.show_point(one.at)}, "
            + ("behind a baffle" if one.baffled else f"under a ridge of {ridge}"),
            indent=2,
        )


def _air(page: Page, flown: Flown) -> None:
    for name, first in flown.air_in_header.items():
        most = units.show(flown.header_air[name], "volume", 2)
        words = (
            "no air enters" if first is None else f"air enters after {clock(first)}, at most {most}"
        )
        page.paragraph(f"{name}: {words}", indent=2)
    for pump, gasp in flown.air_at_pump.items():
        if gasp.first is None:
            words = "no air arrives"
        else:
            words = (
                f"air arrives after {clock(gasp.first)} ({gasp.phase}), {at_engine(gasp)}; "
                f"longest without fuel {units.show(gasp.longest, 'time', 2)}"
            )
        page.paragraph(f"{pump}: {words}", indent=2)
        page.paragraph(f"{pump}: {on_the_way(flown, pump)}", indent=2)


def _slosh(flown: Flown) -> list[tuple[str, str, str]]:
    still = flown.uncovered_still
    return [
        (shown(pickup), units.show(lasts, "time", 3), units.show(still[pickup], "time", 3))
        for pickup, lasts in flown.uncovered.items()
    ]


def on_the_way(flown: Flown, pump: str) -> str:
    """What air passes between the tank and a pump's engine, in words."""
    near, far = flown.line_to_pump[pump], flown.line_to_engine[pump]
    if not far:
        return "air is taken to be at the engine as soon as it leaves the tank"
    return (
        f"after air enters the line at the tank, {units.show(near, 'volume', 2)} are drawn until "
        f"it is at the pump, {units.show(far, 'volume', 2)} until it is at the engine"
    )


def at_engine(gasp: Gasp) -> str:
    """When the air that came to a pump comes to its engine, in words."""
    time = gasp.at_engine
    return "not yet at the engine" if time is None else f"at the engine after {clock(time)}"


def _ranges(flown: Flown) -> list[tuple[str, str, str]]:
    history = flown.history
    rows = [
        _range(f"suction at {pump}", history.suction[:, number], "pressure")
        for number, pump in enumerate(history.pumps)
    ]
    rows += [
        _range(f"pressure in {tank}", history.pressure[:, number], "pressure")
        for number, tank in enumerate(history.tanks)
    ]
    rows += [
        _range(f"airstream at {shown(opening(outlet))}", history.outside[:, number], "pressure")
        for number, outlet in enumerate(history.outlets)
        if history.outside[:, number].any()
    ]
    if history.cg is not None:
        rows.append(_range("centre of gravity, x", history.cg[:, 0], "length"))
        rows.append(_range("centre of gravity, y", history.cg[:, 1], "length"))
        rows.append(_range("centre of gravity, z", history.cg[:, 2], "length"))
    rows.append(_range("rolling moment of the fuel", history.moment, "moment"))
    return rows


def _range(name: str, values: Array, kind: str) -> tuple[str, str, str]:
    least, most = float(values.min()), float(values.max())
    step = _STEPS[kind]
    shown = [units.show(round(value / step) * step, kind) for value in (least, most)]
    return name, shown[0], shown[1]
