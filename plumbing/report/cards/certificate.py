"""The list of what a certificate file holds, and what an examiner asks. Common practice."""

from __future__ import annotations

from plumbing import units
from plumbing.model.layout import Layout
from plumbing.report.cards.form import Form
from plumbing.report.words import listed
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown
from plumbing.units import clock

_PAPERS = (
    ("registered with the scheme, before building where it asks so", "before building"),
    ("drawing: schematic, plan, side and cross view", "before cutting"),
    ("schedules of lines, fittings, tanks and passages", "before drilling"),
    ("design declaration: findings, what was accepted and why", "before drilling"),
    ("tank bays and lines seen OPEN, before they are closed", "before closing"),
    ("bench test cards with readings, instruments, names", "before fuel flows"),
    ("single faults: what fails, how it is noticed, what is done", "before the first run"),
    ("record of the first engine runs", "before the first flight"),
    ("weight and balance by steps of the feed order", "before the first flight"),
    ("failsafe and both stops shown", "before the first flight"),
    ("opening up: first flights with measured burn", "proving flights"),
    ("fuel log, maintenance card", "kept up"),
    ("changes with day, and the tests they reopened", "kept up"),
)


def certificate(layout: Layout) -> Form:
    """What belongs into the file, with room for page and signature."""
    rows = tuple((paper, when, "", "", "") for paper, when in _PAPERS)
    notes = (f"Category: {layout.aircraft.category}.",) if layout.aircraft.category else ()
    heads = ("paper", "seen", "where", "day", "inspector")
    steps = ("A signature is given for what was seen. Call the inspector before a bay is closed.",)
    return Form("Certificate file", (), steps, heads, rows, notes)


def questions(layout: Layout, flown: Flown | NotComputed) -> tuple[tuple[str, str], ...]:
    """What an examiner asks at the aircraft, and what this layout answers."""
    shut = [n for n, one in layout.valves.items() if one.kind == "shut-off" and one.outside]
    found = [
        ("Show me the vent.", listed(list(layout.outlets)) or "none"),
        ("Shut the fuel off with the model burning.", listed(shut) or "no valve outside"),
        ("Prove that the failsafe stops the engine.", "card 13"),
        ("When was the pickup hose changed?", "maintenance card"),
    ]
    if known(flown):
        first = flown.order[0] if flown.order else None
        left = flown.usable - flown.timer * flown.mean_flow
        empty = f"{first[0]}, after {clock(first[1])}" if first else "none"
        found[2:2] = [
            ("Which tank is empty first?", empty),
            (
                "What is left when the timer rings?",
                f"about {units.show(max(left, 0.0), 'volume', 2)} usable, ground time not counted",
            ),
        ]
    return tuple(found)
