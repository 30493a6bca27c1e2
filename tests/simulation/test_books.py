"""Books in flight: what was on board is burnt, left or lost, in every result that is shown."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from flight_rigs import ML, engine, flown, single, steady, teed

from plumbing import layout
from plumbing.layout import starter
from plumbing.model.flight import Phase
from plumbing.network import survey
from plumbing.report.fly_json import fly_json
from plumbing.report.fly_text import books_rows, fly_text
from plumbing.report.sheets.flown import books
from plumbing.simulation.flight import fly
from plumbing.simulation.profile import profile_of

LAYOUTS = sorted(Path("layouts").glob("*.yaml"))
STARTERS = ("single-main", "chained-pair", "teed-pair", "twin-engine", "wings-into-main")


def closes(one):
    """Largest gap in what a printed book says, as share of the fuel on board."""
    lost = sum(entry["volume_m3"] for entry in one["lost"])
    out = sum(one["burnt_m3"].values()) + sum(one["left_m3"].values()) + lost
    held = sum(one["on_board_m3"].values())
    return abs(held - out) / held


@pytest.mark.outside("conservation of volume", quantity="books of a flight")
@pytest.mark.parametrize("path", [*LAYOUTS, *STARTERS], ids=lambda one: Path(one).stem)
def test_books_balance_in_what_is_printed(path):
    """On board = burnt by engine + left by tank + lost by outlet and phase, in every output."""
    text = starter(path) if isinstance(path, str) else path.read_text()
    flight = fly(found := layout.read(text, "one.yaml"), survey(found))
    printed = json.loads(fly_json(flight))["books"]
    for name in ("flight", "until_an_engine_stops"):
        assert closes(printed[name]) <= 1e-6
    for column in (1, 2):
        held, *parts = [row[column] for row in books_rows(flight)]
        assert sum(parts) == pytest.approx(held, rel=1e-6)
        held, *parts = [float(row[column]) for row in books(flight).rows]
        assert sum(parts) == pytest.approx(held, rel=1e-6)


AREA = 0.150 * 0.080
SUCKED = 400.0  # at the second outlet in the fast phase [Pa]


def sucked(fast=True, flow=10.0, seconds=30.0):
    """A full tank 60 mm high with a second vent from its floor to an outlet 20 mm over its top.

    In still air no fuel rises so high. In the fast phase the outlet is sucked at by 400 Pa.
    """
    rig = single(flow=flow)
    main = rig.tanks["main"]
    low = replace(main.ports["vent"], name="low", at=(0.02, 0.0, -0.03))
    main = replace(main, ports={**main.ports, "low": low})
    vent = replace(rig.outlets["vent"], pressure_coefficient=0.0)
    speed = 40.0 if fast else 0.001
    stream = 0.5 * 1.225 * 40.0**2
    second = replace(
        vent, name="second", at=(0.02, 0.0, 0.05), pressure_coefficient=-SUCKED / stream
    )
    line = replace(rig.lines["vent line"], name="second line", from_="main.low", to="second.tube")
    rig = replace(
        rig,
        tanks={"main": main},
        outlets={"vent": vent, "second": second},
        lines={**rig.lines, "second line": line},
    )
    phases = [
        Phase(name=name, duration=seconds, throttle=1.0, airspeed=one)
        for name, one in (("calm", 0.001), ("fast", speed))
    ]
    return rig, profile_of("both", phases)


@pytest.mark.outside("hydrostatics: it stops p / (rho g) under the outlet", quantity="fuel lost")
def test_fuel_lost_is_told_by_outlet_and_phase():
    """The stream sucks fuel out until it stands 400 Pa under the outlet, in the fast phase."""
    flight = flown(*sucked(flow=0.5, seconds=600.0))
    rise = SUCKED / (804.0 * 9.80665)
    lost = AREA * (0.060 - (0.080 - rise)) - 5.0 * ML  # less what the engine burnt before
    assert dict(flight.books.lost) == {("second.tube", "fast"): pytest.approx(lost, rel=0.02)}


def test_fuel_lost_is_usable_no_more():
    """The flight that loses fuel lands with that much less, flies shorter and sets less timer."""
    calm, fast = flown(*sucked(fast=False)), flown(*sucked())
    assert calm.books.gone == calm.dry_books.gone == 0.0
    assert fast.books.gone > 100.0 * ML
    assert fast.dry_books.gone > 200.0 * ML
    assert fast.usable == pytest.approx(calm.usable - fast.dry_books.gone, abs=1.0 * ML)
    assert fast.landed_with == pytest.approx(calm.landed_with - fast.dry_books.gone, abs=1.0 * ML)
    assert fast.endurance < 0.8 * calm.endurance
    assert fast.timer < 0.8 * calm.timer


def test_loss_after_landing_is_not_landed_with():
    """Fuel lost in a phase that the dry run does not repeat is not on board any more either."""
    rig, profile = sucked()
    aloft = replace(profile, airborne=np.array([True, False]))
    flight = flown(rig, aloft)
    assert flight.books.gone > flight.dry_books.gone + 10.0 * ML
    assert flight.landed_with <= sum(flight.books.left.values())


def test_usable_and_stranded_belong_to_the_engine_that_stops_first():
    """Of two half-systems the hungrier stops first; the other's fuel is then still on board."""
    one, other = single(flow=160.0), single(flow=80.0)

    def half(rig, word):
        def named(text):
            return ".".join(
                [f"{word} {text.partition('.')[0]}", *filter(None, [text.partition(".")[2]])]
            )

        sections = {}
        for name in ("tanks", "pumps", "engines", "outlets"):
            section = getattr(rig, name)
            sections[name] = {named(n): replace(p, name=named(n)) for n, p in section.items()}
        sections["lines"] = {
            named(n): replace(p, name=named(n), from_=named(p.from_), to=named(p.to))
            for n, p in rig.lines.items()
        }
        return sections

    left, right = half(one, "left"), half(other, "right")
    both = replace(one, **{name: left[name] | right[name] for name in left})
    flight = flown(both, steady(60.0))
    assert flight.stops_first == "left engine"
    held = 0.15 * 0.08 * 0.06
    assert flight.dry_books.burnt["left engine"] == pytest.approx(held, rel=0.05)
    assert flight.dry_books.burnt["right engine"] == pytest.approx(0.5 * held, rel=0.05)
    assert flight.stranded["right main"] == pytest.approx(0.5 * held, rel=0.05)
    assert flight.usable + sum(flight.stranded.values()) == pytest.approx(2.0 * held, rel=1e-6)


@pytest.mark.outside("worked by hand: flow times time", quantity="burnt by each engine")
def test_burnt_by_each_of_two_engines_on_one_pump():
    """A pump that feeds two engines gives each what it asks for."""
    rig = teed()
    big, small = engine(120.0), replace(engine(40.0), name="small")
    lines = dict(rig.lines)
    extra = replace(lines["to engine"], name="to small", to="small.feed")
    rig = replace(rig, engines={"engine": big, "small": small})
    tee = replace(rig.tees["tee"], name="split")
    lines["to engine"] = replace(lines["to engine"], to="split.run-a")
    lines["on"] = replace(extra, name="on", from_="split.run-b", to="engine.feed")
    lines["to small"] = replace(extra, from_="split.branch")
    rig = replace(rig, lines=lines, tees={**rig.tees, "split": tee})
    flight = flown(rig, steady(60.0, airspeed=1e-3))
    assert flight.books.burnt["engine"] == pytest.approx(120.0 * ML, rel=1e-6)
    assert flight.books.burnt["small"] == pytest.approx(40.0 * ML, rel=1e-6)


def test_the_loss_is_said():
    """The text of the flight says how much is lost overboard, at which outlet and when."""
    rig, profile = sucked()
    flight = flown(rig, profile)
    said = fly_text(rig, flight)
    assert f"{1e6 * flight.books.gone:.1f} ml" in said
    assert "lost at second, fast" in said
    assert "lost overboard" in said
