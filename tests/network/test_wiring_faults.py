"""Islands, openings, tees, headers, shared parts."""

from dataclasses import replace

import pytest

from plumbing.network import PartKind, survey

from .wiring import wire

SINGLE = "vent - main.vent; main.pick - header.in; header.out - pump - engine"


def test_islands():
    """A part no line joins is an island of one; the working system is another."""
    working, alone = sorted(
        survey(wire(SINGLE, alone="tee7")).islands, key=lambda island: not island.lines
    )
    assert working.engines == ("engine",)
    assert set(working.tanks) == {"main", "header"}
    assert working.lines == ("line-1", "line-2", "line-3", "line-4")
    assert alone.parts == ("tee7",)
    assert not alone.tanks


def test_unjoined_tank_port_is_an_opening_unless_capped():
    """A spare port left open vents its tank; with a cap it does not."""
    spare = survey(wire(SINGLE, alone="header.spare"))
    capped = survey(wire(SINGLE, alone="header.capped"))
    assert spare.vented["header"].openings == ("header.spare",)
    assert {o.name for o in spare.openings if o.is_open} == {"vent", "header.spare"}
    assert "header" not in capped.vented
    assert [o.closed_by for o in capped.openings if o.part == "header"] == ["cap"]


def test_open_tee_leg_is_an_opening_and_a_dead_end():
    """A tee leg without a line lets air in and is a dead end."""
    found = survey(wire(SINGLE.replace("header.out - pump", "header.out - tee1 - pump")))
    assert [end.name for end in found.dead_ends] == ["tee1.branch"]
    assert {o.name for o in found.openings if o.is_open} == {"vent", "tee1.branch"}
    assert "header" not in found.vented  # that air goes to the pump, not into the header


def test_fill_port_without_valve_and_cap_is_open():
    """A fill port that states neither is taken as closed, one that denies both is open."""
    layout = wire(SINGLE + "; fill - main.fill")
    port = replace(layout.fill_ports["fill"], valve=False, cap=False)
    opened = survey(replace(layout, fill_ports={"fill": port}))
    assert [o.is_open for o in survey(layout).openings if o.name == "fill"] == [False]
    assert [o.is_open for o in opened.openings if o.name == "fill"] == [True]


def test_cap_on_a_joined_port():
    """A port with both a line and a cap is named."""
    assert survey(wire(SINGLE + "; header.capbleed - vent2")).capped_but_joined == (
        "header.capbleed",
    )


def test_teed_pickups_name_tee_tanks_and_vents():
    """Teed pickups are named with their tee, what they feed, and whether their vents join."""
    text = "{}; a.pick - tee1; b.pick - tee1; tee1 - main.in; main.pick - pump - engine"
    (apart,) = survey(wire(text.format("vent1 - a.vent; vent2 - b.vent"))).teed
    (joined,) = survey(wire(text.format("a.vent - tee2; b.vent - tee2; tee2 - vent"))).teed
    assert (apart.tanks, apart.tees, apart.into) == (("a", "b"), ("tee1",), ("main",))
    assert not apart.vents_joined
    assert joined.vents_joined
    assert not apart.fine_pore
    assert not apart.balanced


def test_header_facts():
    """A header tells its open vents, what is between it and the pump, and where it bleeds to."""
    vented = survey(wire(SINGLE + "; vent2 - header.vent")).headers[0]
    filtered = survey(wire(SINGLE.replace("header.out - ", "header.out - filter - "))).headers[0]
    first = survey(wire("vent - header.vent; header.pick - main.in; main.pick - pump - engine"))
    bleeding = survey(wire(SINGLE + "; header.top - main.top")).headers[0]
    assert vented.openings == ("vent2",)
    assert [(b.part, b.kind) for b in filtered.after] == [("filter", PartKind.FILTER)]
    assert [(b.part, b.kind) for b in first.headers[0].after] == [("main", PartKind.TANK)]
    assert bleeding.returns_to == ("main",)


def test_pressure_filter_is_not_after_the_header():
    """A filter behind the pump is no second air trap."""
    assert survey(wire(SINGLE.replace("pump - ", "pump - filter - "))).headers[0].after == ()


@pytest.mark.outside(
    "full-size practice, as an analogy: no single failure but of a tank may stop two engines",
    quantity="shared parts of a twin",
)
def test_shared_header_and_tee_of_a_twin():
    """A header and tee that feed both engines stop both; the pumps stop one each."""
    text = (
        "vent - main.vent; main.pick - header.in; header.out - tee1;"
        "tee1 - pump1 - engine1; tee1 - pump2 - engine2"
    )
    shared = {found.part: found.engines for found in survey(wire(text)).shared}
    assert set(shared) == {"main", "header", "tee1"}
    assert set(shared.values()) == {("engine1", "engine2")}


def test_independent_halves_share_nothing():
    """Two half-systems joined only by the fill line share no part."""
    text = (
        "vent1 - a.vent; a.pick - pump1 - engine1; vent2 - b.vent; b.pick - pump2 - engine2;"
        "fill - tee1; tee1 - a.fill; tee1 - b.fill"
    )
    assert survey(wire(text)).shared == ()


def test_two_ways_round_are_no_single_failure():
    """Of two pumps side by side to two engines neither stops both."""
    text = (
        "vent - m.vent; m.pick - tee1; tee1 - pump1 - tee2; tee1 - pump2 - tee2;"
        "tee2 - tee3; tee3 - engine1; tee3 - engine2"
    )
    assert {found.part for found in survey(wire(text)).shared} == {"m", "tee1", "tee2", "tee3"}


def test_filter_fitted_backwards():
    """A filter whose outlet looks to the tank stands against the flow."""
    found = survey(wire("vent - m.vent; m.pick - filter.out; filter.in - pump - engine"))
    assert [(part.part, part.against) for part in found.one_way] == [("filter", True)]
