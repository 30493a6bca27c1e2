"""Feed order as the vents decide it."""

import pytest

from plumbing.network import survey

from .wiring import wire

END = "; header.out - pump - engine"
CHAIN = "vent - far.vent; far.pick - mid.in; mid.pick - near.in; near.pick - header.in" + END
TEED = "{a} - a.vent; {b} - b.vent; a.{p} - tee1; b.{p} - tee1; tee1 - header.in" + END
SERIES = "common practice: in a chain the far, vented tank empties first and the header last"


def order(text, **changes):
    """Tanks of each group."""
    return [group.tanks for group in survey(wire(text, **changes)).order.groups]


@pytest.mark.outside(SERIES, quantity="feed order of a chain")
def test_chain_empties_from_the_far_end():
    """In a chain with one vent at the far end the far tank is first and the header last."""
    assert order(CHAIN) == [("far",), ("mid",), ("near",), ("header",)]


@pytest.mark.outside(
    "common practice: with a second vent open the nearer tank empties first, the rest is stranded",
    quantity="feed order with a second open vent",
)
def test_second_vent_reverses_the_chain():
    """With a second vent the nearer tank goes first and what is behind it stays."""
    found = survey(wire(CHAIN + "; vent2 - near.vent"))
    groups = found.order.groups
    assert groups[0].tanks == ("near",)
    assert set(groups[-1].tanks) == {"far", "mid"}
    assert groups[-1].stranded
    (second,) = found.second_vents
    assert (second.tank, second.openings, second.behind) == ("near", ("vent2",), ("far",))


def test_vented_header_comes_first():
    """A header with an open vent gives air before any other tank gives fuel."""
    assert order(CHAIN + "; vent2 - header.vent")[0] == ("header",)


@pytest.mark.outside(
    "common practice: which of two teed tanks runs dry first is not decided",
    quantity="feed order of teed tanks",
)
def test_teed_tanks_share_a_group():
    """Teed tanks with plain pickups are one group, and any intended order of them a conflict."""
    text = TEED.format(a="vent1", b="vent2", p="pick")
    found = survey(wire(text, feed_order=("a", "b", "header"))).order
    assert [group.tanks for group in found.groups] == [("a", "b"), ("header",)]
    assert [(c.first, c.then) for c in found.conflicts] == [("a", "b")]


def test_fine_pore_pickups_or_a_balance_line_keep_teed_tanks_together():
    """Teed tanks whose pickups hold back air, or that a low line joins, sink together."""
    fine = survey(wire(TEED.format(a="vent1", b="vent2", p="fine"), feed_order=("a", "b")))
    low = survey(
        wire(TEED.format(a="vent1", b="vent2", p="pick") + "; a.low - b.low", feed_order=("a", "b"))
    )
    for found in (fine, low):
        assert found.order.groups[0].together
        assert found.order.conflicts == ()
    assert fine.teed[0].fine_pore
    assert low.teed[0].balanced


def test_tanks_meant_together_conflict_with_one_after_the_other():
    """Teed tanks with a balance line may be meant together; the tanks of a chain may not."""
    low = TEED.format(a="vent1", b="vent2", p="pick") + "; a.low - b.low"
    meant = {"feed_order": ("a", "b", "header"), "together": (("a", "b"),)}
    assert survey(wire(low, **meant)).order.conflicts == ()
    chain = {"feed_order": ("far", "mid", "near", "header"), "together": (("mid", "near"),)}
    (one,) = survey(wire(CHAIN, **chain)).order.conflicts
    assert (one.first, one.then) == ("mid", "near")


def test_steps_are_what_empties_at_the_same_time():
    """Balanced tanks and independent systems empty side by side, undecided ones in turn."""
    undecided = TEED.format(a="vent1", b="vent2", p="pick")
    assert survey(wire(undecided)).order.steps == (("a",), ("b",), ("header",))
    assert survey(wire(undecided + "; a.low - b.low")).order.steps == (("a", "b"), ("header",))
    other = "; vent3 - c.vent; c.pick - pump2 - engine2"
    assert survey(wire(CHAIN + other)).order.steps == (
        ("far", "c"),
        ("mid",),
        ("near",),
        ("header",),
    )


def test_one_vent_serves_tanks_joined_by_a_balance_line():
    """A tank with no vent of its own breathes through the balance line."""
    text = "vent - a.vent; a.pick - tee1; b.pick - tee1; tee1 - pump - engine; a.low - b.low"
    assert survey(wire(text)).airless == ()
    assert not survey(wire(text)).order.groups[0].stranded


def test_intended_order_is_compared_pair_by_pair():
    """The right order has no conflict, a wrong one names the two tanks, a missing tank is told."""
    right = survey(wire(CHAIN, feed_order=("far", "mid", "near", "header"))).order
    wrong = survey(wire(CHAIN, feed_order=("mid", "far", "header"))).order
    assert (right.conflicts, right.not_listed) == ((), ())
    assert [(c.first, c.then) for c in wrong.conflicts] == [("mid", "far")]
    assert wrong.not_listed == ("near",)


def test_independent_systems_run_side_by_side():
    """Two half-systems are two systems; tanks of different ones are not compared."""
    text = (
        "vent1 - m1.vent; m1.pick - header1.in; header1.out - pump1 - engine1;"
        "vent2 - m2.vent; m2.pick - header2.in; header2.out - pump2 - engine2;"
        "fill - tee9; tee9 - check1 - m1.fill; tee9 - check2 - m2.fill"
    )
    found = survey(wire(text, feed_order=("m1", "header1", "m2", "header2"))).order
    assert len(found.systems) == 2
    assert found.conflicts == ()
    assert found.tanks == ("m1", "m2", "header1", "header2")


def test_tanks_without_air_or_pump_come_last():
    """A sealed tank nothing refills keeps its fuel, and so does one that leads to no pump."""
    sealed = survey(wire("m.pick - pump - engine"))
    assert sealed.airless == ("m",)
    assert sealed.order.groups[0].stranded
    apart = survey(wire("vent - m.vent; m.pick - pump - engine; vent2 - spare.vent"))
    assert apart.cut_off == ("spare",)
    assert apart.order.groups[-1].tanks == ("spare",)
    assert apart.order.groups[-1].stranded


def test_every_tank_is_in_exactly_one_group():
    """No tank is forgotten and none is named twice."""
    found = survey(wire(CHAIN + "; vent3 - other.vent; loose.a - loose.b"))
    assert sorted(found.order.tanks) == sorted(found.network.layout.tanks)


def test_each_group_says_why_in_one_line():
    """Every group has a reason that names its tanks or what holds them."""
    for group in survey(wire(CHAIN + "; vent2 - near.vent")).order.groups:
        assert group.reason
        assert "\n" not in group.reason


def test_a_tank_waits_for_the_longest_chain_behind_it():
    """A main fed by a tank and by a chain of two comes after all three."""
    text = (
        "vent1 - a.vent; vent2 - far.vent; far.pick - near.in; a.pick - tee1; near.pick - tee1;"
        "tee1 - main.in; main.pick - pump - engine"
    )
    assert order(text) == [("a", "far"), ("near",), ("main",)]


def test_only_openings_that_let_air_in_are_named():
    """Of two outlets on one vent line the one behind an outward check valve is not named."""
    text = "vent1 - tee1; check.out - vent2; check.in - tee1; tee1 - m.vent; m.pick - pump - engine"
    assert survey(wire(text)).vented["m"].openings == ("vent1",)
