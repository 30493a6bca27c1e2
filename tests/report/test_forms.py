"""Papers to be filled in by hand: what is printed on them beside the room to write."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from report_subjects import subject

from plumbing.checks.case import Case
from plumbing.checks.limits import limits_in_force
from plumbing.model.tank import Hose
from plumbing.report.cards.care import care
from plumbing.report.cards.certificate import certificate, questions
from plumbing.report.cards.first_run import first_run
from plumbing.report.cards.flight_line import if_it_goes_wrong
from plumbing.report.cards.opening_up import fuel_log, opening_up
from plumbing.report.sheets.peaks import drops
from plumbing.report.sheets.tank_sheet import tank_sheets
from plumbing.results import NotComputed

MISSING = NotComputed("flight", "no engine")


@cache
def case() -> Case:
    """The twin."""
    return subject("twin").examined.case


def cared(layout) -> dict[tuple[str, str], tuple[str, ...]]:
    """Rows of the maintenance card by part and job."""
    form = care(layout, case().flight, limits_in_force(layout))
    return {(row[0], row[1]): row for row in form.rows}


@pytest.mark.outside(
    "6 g on 2.65 L of 0.81 kg/L and 170 g: (2.147 + 0.17) kg x 9.81 x 6 = 136 N",
    quantity="load on a tank's mount",
)
def test_a_tank_sheet_by_hand():
    """Volumes from the box, the pickup as drawn, the load by hand."""
    sheet = dict(next(one for one in tank_sheets(case()) if one.name == "tank port main").rows)
    assert sheet["holds brim-full, filled to fly"].startswith("2.7")
    assert "hose 140 mm" in sheet["pickup at feed"]
    assert "to end 165 mm" in sheet["pickup at feed"]
    assert sheet["load on the mount"].startswith("136 N at 6 g; fixing holds 12 g")
    assert "proved to 30 kPa" in sheet["wall"]
    assert "usable, stays behind" in sheet


def test_the_sum_of_the_drop_sheet_is_the_suction():
    """Drops and head make the suction in every column; limit less suction is the margin."""
    peak = case().peak.engines["port engine"]
    table = drops(peak, limits_in_force(case().layout))
    heads = [column.words for column in table.columns]
    places = [heads.index(name) for name in ("drop", "worst fuel", "under load", "filters due")]
    rows = {row[1]: row for row in table.rows[len(peak.elements) :]}
    expected = (peak.suction, peak.coldest.suction, peak.loaded.suction, peak.dirty.suction)
    for place, suction in zip(places, expected, strict=True):
        losses = sum(row[place] for row in table.rows[: len(peak.elements)])
        assert rows["sum of the drops"][place] == pytest.approx(losses)
        whole = losses + rows["head of fuel and gas"][place]
        assert whole == pytest.approx(suction.value / 1e3)
        margin = rows["limit"][place] - rows["suction at the pump inlet"][place]
        assert rows["margin"][place] == pytest.approx(margin)
    assert [rows["limit"][place] for place in places] == [10.0, 15.0, 20.0, 15.0]


@pytest.mark.outside(
    "Hagen-Poiseuille: the laminar loss of a tube goes with the viscosity", quantity="cold drop"
)
def test_cold_fuel_costs_more_in_every_tube():
    """At -5 degC against 18 degC tubes lose about half as much again, a dirty screen more."""
    peak = case().peak.engines["port engine"]
    for one in peak.elements:
        if one.what.startswith("tube"):
            assert one.worst[0] > 1.3 * one.drop.value
    screen = next(one for one in peak.elements if one.what.startswith("filter"))
    assert screen.worst[2] > screen.worst[0] > screen.drop.value


def test_the_first_run_expects_what_the_file_says():
    """Volts and flow at idle and full beside the predicted suction; room for what is read."""
    rows = {row[:2]: row for row in first_run(case().layout, case().peak).rows}
    idle, full = rows["port engine", "idle"], rows["port engine", "full"]
    assert idle[2:4] == ("55 ml/min", "1.2 V")
    assert full[2:4] == ("370 ml/min", "4.4 V")
    assert full[5] == "2.27 kPa"
    assert full[4] == full[6] == full[8] == ""
    said = " ".join(first_run(case().layout, case().peak).cautions)
    assert "leak" in said
    assert "extinguisher" in said


def test_the_first_flights_are_flown_to_half_the_timer():
    """Half of the computed timer twice, three quarters, then all of it."""
    whole = case().flight.timer
    rows = opening_up(case().flight).rows
    seconds = [
        sum(float(n) * u for n, u in zip(row[2].split()[::2], (60, 1), strict=False))
        for row in rows
    ]
    assert seconds == pytest.approx([0.5 * whole, 0.5 * whole, 0.75 * whole, whole], abs=1.0)
    assert all(row[4:] == ("",) * 5 for row in rows)


def test_without_a_flight_the_papers_have_room_instead_of_numbers():
    """What was not computed leaves the cell to be written in."""
    assert all(row[2:] == ("",) * 7 for row in opening_up(MISSING).rows)
    limits = limits_in_force(case().layout)
    assert "50 flights" in {row[3] for row in care(case().layout, MISSING, limits).rows}
    assert all("timer" not in asked for asked, _ in questions(case().layout, MISSING))


def test_maintenance_is_due_by_the_age_in_the_file():
    """A hose of 5 months under a renewal of a year is due in 7; one of 3 years is overdue."""
    row = cared(case().layout)["port main.feed", "renew the pickup hose"]
    assert row[2] == "12 months"
    assert row[4:6] == ("5 months", "in 7 months")
    tank = case().layout.tanks["port main"]
    port = tank.ports["feed"]
    old: Hose = replace(port.pickup.hose, age=3 * 365.25 * 86400.0)
    aged = replace(port, pickup=replace(port.pickup, hose=old))
    tanks = {**case().layout.tanks, "port main": replace(tank, ports={**tank.ports, "feed": aged})}
    row = cared(replace(case().layout, tanks=tanks))["port main.feed", "renew the pickup hose"]
    assert row[5] == "OVERDUE"


def test_every_filter_pump_and_outlet_is_looked_at():
    """The yearly jobs name each by its name, in months, hours and litres."""
    rows = cared(case().layout)
    parts = {part for part, _ in rows}
    layout = case().layout
    for name in (*layout.filters, *layout.pumps, *layout.outlets):
        assert name in parts
    use = rows["port screen", "open and clean, look for water and fibres"][3]
    assert "h or" in use
    assert use.endswith("L")


def test_the_card_says_what_to_do_when_it_goes_wrong():
    """Hot start, fires, fuel in an eye; with this aircraft's own valves and extinguisher."""
    lines = dict(if_it_goes_wrong(case().layout))
    assert "port shut-off and starboard shut-off CLOSED" in lines["hot start, long flame"]
    assert "carbon dioxide" in lines["fire while fuelling"]
    assert "water" in lines["fuel in an eye"]


def test_log_and_certificate_have_room():
    """Empty rows for flights; a row a paper with room for a signature."""
    assert len(fuel_log().rows) > 20
    assert not any(any(row) for row in fuel_log().rows)
    form = certificate(case().layout)
    assert any("before they are closed" in row[0] for row in form.rows)
    assert all(row[2:] == ("", "", "") for row in form.rows)
    asked = dict(questions(case().layout, case().flight))
    assert asked["Which tank is empty first?"].startswith(("port main", "starboard main"))
