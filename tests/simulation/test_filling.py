"""Filling: times, order, trapped air and pressures, by hand and by a second method."""

import math
from dataclasses import replace
from pathlib import Path

import fluids
import numpy as np
import pytest
from ground_rigs import MM, box, composite, rig

from plumbing.checks.case import Case
from plumbing.checks.filling import filling_flow_too_fast
from plumbing.checks.filling import tank_overpressured_while_filling as overpressured
from plumbing.checks.kit import Found
from plumbing.hydraulics.solver import solve
from plumbing.layout import load
from plumbing.model.ground import Filling
from plumbing.network import survey
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.filling import fill, fill_all
from plumbing.simulation.filling_pump import Pump
from plumbing.simulation.fluid import fluids_at
from plumbing.simulation.ground import for_fuelling, node_of

DEMOS = Path(__file__).parents[2] / "layouts"
LITRE_A_MINUTE = 1e-3 / 60


def single(flow=LITRE_A_MINUTE, bore=4.0, outlet=(0, 0, 100), overflow=500, **parts):
    """One tank of a litre filled from below, its overflow at the top."""
    return rig(
        [
            box(
                "main",
                (0, 0, 50),
                (100, 100, 100),
                wall=composite(),
                low=(0, 0, 0),
                top=(0, 0, 100),
            )
        ],
        {"fill": ("fill.tube", "main.low", 100), "vent": ("main.top", "vent.tube", overflow)},
        bore=bore,
        fill_ports={"fill": (0, 0, 0)},
        outlets={"vent": outlet},
        filling=Filling(flow=flow, **parts),
    )


def filled(layout, port=None):
    """Filling of a layout."""
    return fill(layout, survey(layout), port)


def chain():
    """Two tanks in a chain: the second fills when the first is full."""
    tanks = [
        box("near", (0, 0, 50), (100, 100, 100), low=(0, 0, 0), top=(0, 0, 100)),
        box("far", (300, 0, 50), (100, 100, 100), low=(300, 0, 0), top=(300, 0, 100)),
    ]
    lines = {
        "fill": ("fill.tube", "near.low", 100),
        "link": ("near.top", "far.low", 400),
        "vent": ("far.top", "vent.tube", 300),
    }
    return rig(
        tanks,
        lines,
        fill_ports={"fill": (0, 0, 0)},
        outlets={"vent": (300, 0, 100)},
        filling=Filling(flow=LITRE_A_MINUTE),
    )


def test_time_to_fill_is_volume_over_flow():
    """A litre at a litre a minute has filled after a minute and then all of it runs out."""
    found = filled(single())
    assert found.tanks["main"].holds == pytest.approx(1e-3, rel=1e-3)
    assert np.interp(0.9e-3, found.volume[:, 0], found.time) == pytest.approx(54.0, rel=1e-6)
    assert found.spills[0].outlet == "vent"
    assert found.spills[0].flow == pytest.approx(LITRE_A_MINUTE, rel=1e-3)


def test_what_is_pushed_in_is_on_board_or_spilt():
    """Fuel on board never exceeds what was pushed in, and equals it until the overflow."""
    found = filled(chain())
    first = found.spills[0].first
    before = found.time < first
    board = found.volume.sum(axis=1)
    assert board[before] == pytest.approx(found.pushed_in[before], abs=1e-9)
    assert (board <= found.pushed_in + 1e-9).all()


def test_chain_fills_in_order():
    """The near tank of a chain is full before the far one has begun."""
    tanks = filled(chain()).tanks
    assert tanks["near"].full < tanks["far"].full
    assert tanks["far"].begins == pytest.approx(60.0, abs=3.0)
    assert list(tanks) == ["near", "far"]


def test_part_filled_chain_holds_its_fuel_in_the_near_tank():
    """Half a litre pushed into a chain of two litres is all in the near tank."""
    found = filled(chain())
    at = found.at(0.5e-3)
    assert at["near"] == pytest.approx(0.5e-3, rel=1e-6)
    assert at["far"] == 0.0


def by_hand(flow, length, bore, layout):
    """Loss of a tube by Churchill's friction, with entry and exit, from another library [Pa]."""
    kerosene = fluids_at(layout, np.array([15.0]))
    rho, mu = float(kerosene.liquid_density[0]), float(kerosene.liquid_viscosity[0])
    speed = flow / (math.pi / 4 * bore**2)
    reynolds = rho * speed * bore / mu
    friction = fluids.friction.Churchill_1977(reynolds, 0.0) * length / bore
    return (friction + 1.28) * rho * speed**2 / 2, rho * speed**2 / 2, reynolds


@pytest.mark.outside("Churchill 1977 as implemented in `fluids`", quantity="overflow back-pressure")
@pytest.mark.parametrize("bore", [3.0, 4.0, 5.0, 6.0])
def test_overflow_back_pressure(bore):
    """With the overflow full, the tank stands under the loss of the overflow line."""
    layout = single(bore=bore)
    gas = filled(layout).tanks["main"].gas
    line, dynamic, _ = by_hand(LITRE_A_MINUTE, 0.5, bore * MM, layout)
    assert line - dynamic < gas < line + 2.5 * dynamic


@pytest.mark.outside(
    "overflow table worked by hand for the trade, common practice", quantity="overflow pressure"
)
@pytest.mark.parametrize(
    ("litres", "bore", "kilopascal"), [(1.0, 4.0, 4.9), (2.0, 5.0, 6.2), (3.0, 6.0, 5.7)]
)
def test_overflow_back_pressure_of_practice(litres, bore, kilopascal):
    """Half a metre of overflow costs what builders count with, within a quarter."""
    found = filled(single(flow=litres * LITRE_A_MINUTE, bore=bore))
    assert found.tanks["main"].gas == pytest.approx(kilopascal * 1e3, rel=0.25)


def test_pressure_before_the_overflow_is_only_the_fuel():
    """Until fuel reaches the overflow, no more than the fuel's own depth presses on the floor."""
    layout = single()
    rho = float(fluids_at(layout, np.array([15.0])).liquid_density[0])
    tank = filled(layout).tanks["main"]
    assert tank.pressure_before == pytest.approx(rho * GRAVITY * 0.1, rel=0.1)
    assert tank.pressure - tank.gas == pytest.approx(rho * GRAVITY * 0.1, rel=0.01)


def test_loop_in_the_overflow_stands_on_the_tank():
    """A loop 200 mm up costs its height more than the same loop laid flat."""
    layout = single(outlet=(0, 0, 100))
    rho = float(fluids_at(layout, np.array([15.0])).liquid_density[0])

    def gas(point):
        vent = replace(layout.lines["vent"], route=(point,))
        return filled(replace(layout, lines={**layout.lines, "vent": vent})).tanks["main"].gas

    rise = gas((0.0, 0.0, 0.3)) - gas((0.0, 0.2, 0.1))
    assert rise == pytest.approx(rho * GRAVITY * 0.2, rel=1e-6)


def test_safe_flow_brings_the_tank_to_half_its_proof_pressure():
    """Filled at the flow called safe, the tank stands at half of what it was proved to."""
    layout = single()
    safe = filled(layout).safe
    assert safe.tank == "main"
    again = filled(replace(layout, filling=Filling(flow=safe.highest)))
    assert again.tanks["main"].pressure == pytest.approx(10e3, rel=0.03)


def test_weak_pump_gives_less_when_the_overflow_runs_full():
    """A pump of 5 kPa cannot push two litres a minute through the full overflow, and says so."""
    found = filled(single(flow=2 * LITRE_A_MINUTE, pump_pressure=5e3))
    assert 0.3 * LITRE_A_MINUTE < found.pump_limits < 2 * LITRE_A_MINUTE
    assert found.port_pressure == pytest.approx(5e3, rel=0.01)
    assert found.tanks["main"].gas < 5e3


def test_closed_vent_takes_the_pressure_of_the_pump():
    """Against a closed vent nothing flows and the pressure rises to that of the pump."""
    layout = single(pump_pressure=40e3)
    tank = layout.tanks["main"]
    tank = replace(tank, ports={**tank.ports, "top": replace(tank.ports["top"], capped=True)})
    lines = {"fill": layout.lines["fill"]}
    layout = replace(layout, outlets={}, lines=lines, tanks={"main": tank})
    found = filled(layout)
    assert found.why_not
    assert found.closed_pressure == 40e3
    assert found.on_board == 0.0


def test_air_over_the_vent_is_trapped():
    """A vent that opens 30 mm below the top leaves 0.3 L of air in a 1 L box."""
    layout = single()
    port = replace(layout.tanks["main"].ports["top"], opens_at=(0.0, 0.0, 70 * MM))
    tank = layout.tanks["main"]
    tank = replace(tank, ports={**tank.ports, "top": port})
    found = filled(replace(layout, tanks={"main": tank}))
    assert found.tanks["main"].trapped == pytest.approx(0.3e-3, abs=0.02e-3)


def test_air_trapped_in_a_tilted_tank():
    """Nose up 45 degrees, a vent in the middle of a cube's lid traps an eighth of it.

    The air over the middle of the lid is a wedge as high as a quarter of the diagonal; the bore
    of the vent is under fuel when the fuel stands half a bore higher.
    """
    layout = single(pitch=math.pi / 4)
    wedge = (math.sqrt(2) * 0.1 / 4 - 0.5 * 4 * MM) ** 2 * 0.1
    assert filled(layout).tanks["main"].trapped == pytest.approx(wedge, rel=0.01)


def test_two_vents_share_the_overflow():
    """Of two overflows alike, each carries half."""
    layout = single()
    tank = layout.tanks["main"]
    ports = {**tank.ports, "other": replace(tank.ports["top"], name="other")}
    tank = replace(tank, ports=ports)
    other = replace(layout.outlets["vent"], name="other")
    line = replace(layout.lines["vent"], name="other", from_="main.other", to="other.tube")
    layout = replace(
        layout,
        tanks={"main": tank},
        outlets={**layout.outlets, "other": other},
        lines={**layout.lines, "other": line},
    )
    flows = [spill.flow for spill in filled(layout).spills]
    assert flows == pytest.approx([LITRE_A_MINUTE / 2] * 2, rel=0.01)


def test_vent_into_another_tank_fills_that_tank_too():
    """A vent that ends in a second, vented tank sends the overflow there."""
    found = filled(chain())
    assert found.tanks["far"].holds == pytest.approx(1e-3, rel=0.01)


def test_vent_loop_holds_no_air():
    """Two lines from a tank to the same other tank fill both without trouble."""
    layout = chain()
    near, far = layout.tanks["near"], layout.tanks["far"]
    near = replace(near, ports={**near.ports, "two": replace(near.ports["top"], name="two")})
    far = replace(far, ports={**far.ports, "two": replace(far.ports["low"], name="two")})
    line = replace(layout.lines["link"], name="two", from_="near.two", to="far.two")
    layout = replace(layout, tanks={"near": near, "far": far}, lines={**layout.lines, "two": line})
    found = filled(layout)
    assert found.on_board == pytest.approx(2e-3, rel=0.01)


def test_flow_that_is_not_stated_is_assumed():
    """Without a flow one litre a minute is taken, and said to be assumed."""
    found = filled(single(flow=None))
    assert found.assumed
    assert found.flow == pytest.approx(LITRE_A_MINUTE)


def test_open_shut_off_lets_fuel_to_the_engine():
    """Through an open shut-off the stopped pump leaks in proportion to the pressure before it."""
    layout = single()
    tank = layout.tanks["main"]
    ports = {**tank.ports, "feed": replace(tank.ports["low"], name="feed")}
    parts = rig(
        [replace(tank, ports=ports)],
        {
            "fill": ("fill.tube", "main.low", 100),
            "vent": ("main.top", "vent.tube", 500),
            "feed": ("main.feed", "pump.in", 100),
            "delivery": ("pump.out", "engine.feed", 100),
        },
        fill_ports={"fill": (0, 0, 0)},
        outlets={"vent": (0, 0, 100)},
        pumps={"pump": (0, 0, 0)},
        engines={"engine": (0, 0, 0)},
        filling=Filling(flow=LITRE_A_MINUTE),
    )
    found = filled(parts)
    pushed = found.pushed[0]
    assert pushed.engine == "engine"
    most = 5e-6 / 60 * pushed.pressure / 10e3 * found.duration
    assert 0.0 < pushed.volume < most


def test_every_fill_port_that_is_needed_is_used():
    """Two tanks with nothing in common are filled one after the other."""
    one, two = single(), single()
    second = replace(
        two,
        tanks={"aft": replace(two.tanks["main"], name="aft")},
        fill_ports={"aft fill": replace(two.fill_ports["fill"], name="aft fill")},
        outlets={"aft vent": replace(two.outlets["vent"], name="aft vent")},
    )
    lines = {
        "aft fill": replace(
            two.lines["fill"], name="aft fill", from_="aft fill.tube", to="aft.low"
        ),
        "aft vent": replace(
            two.lines["vent"], name="aft vent", from_="aft.top", to="aft vent.tube"
        ),
    }
    both = replace(
        one,
        tanks={**one.tanks, **second.tanks},
        fill_ports={**one.fill_ports, **second.fill_ports},
        outlets={**one.outlets, **second.outlets},
        lines={**one.lines, **lines},
    )
    found = fill_all(both, survey(both))
    assert set(found) == {"fill", "aft fill"}
    assert set(found["aft fill"].tanks) == {"aft"}


def test_a_closed_tank_says_whose_air_cannot_leave():
    """Without a vent nothing can be pushed in, and the reason names the tank."""
    layout = single()
    tank = layout.tanks["main"]
    tank = replace(tank, ports={**tank.ports, "top": replace(tank.ports["top"], capped=True)})
    lines = {"fill": layout.lines["fill"]}
    found = filled(replace(layout, outlets={}, lines=lines, tanks={"main": tank}))
    assert found.why_not == "no open way for the air out of main"


def test_a_port_without_its_line_says_so():
    """A fill port that no line joins to a tank fills nothing, and the reason names the port."""
    layout = single()
    layout = replace(layout, lines={"vent": layout.lines["vent"]})
    (why,) = fill_all(layout, survey(layout)).missing
    assert why.reason == "no open line joins fill port fill to a tank"


def demo(name, flow):
    """An example layout, filled at a flow [m3/s]."""
    layout = load(DEMOS / f"{name}.yaml")
    return replace(layout, filling=replace(layout.filling, flow=flow))


@pytest.mark.quick("wings")
@pytest.mark.parametrize("name", ["teed-pair", "wings-into-main"])
def test_time_to_fill_scales_with_the_flow(name):
    """The same litres at 0.9, 1.0 and 1.1 L/min take times as 1/0.9, 1 and 1/1.1."""
    flows = np.array([0.9, 1.0, 1.1]) * LITRE_A_MINUTE
    pushed = [flow * filled(demo(name, flow)).duration for flow in flows]
    assert pushed == pytest.approx([pushed[1]] * 3, rel=0.02)


@pytest.mark.quick("single-main", "chained-pair", "repaired")
@pytest.mark.parametrize("name", sorted(path.stem for path in DEMOS.glob("*.yaml")))
def test_the_next_millilitre_a_minute_is_not_safe(name):
    """Filled at the highest safe flow no tank trips the check; at 1 ml/min more one does."""
    layout = load(DEMOS / f"{name}.yaml")
    highest = min(one.safe.highest for one in fill_all(layout, survey(layout)).values())
    stands = [(tank.name, tank.fill_flow or math.inf) for tank in layout.tanks.values()]
    for more in (0, 1):
        case = Case(demo(name, (round(6e7 * highest) + more) * 1e-6 / 60))
        said = [*filling_flow_too_fast.find(case, 0.0), *overpressured.find(case, 0.5)]
        assert any(isinstance(one, Found) for one in said) == bool(more)
        under = [tank for found in case.filling.values() for tank in found.tanks.values()]
        over = [tank.tank for tank in under if tank.pressure > 0.5 * tank.rated]
        over += [tank for tank, most in stands if case.layout.filling.flow > most * (1.0 + 1e-9)]
        assert bool(over) == bool(more)


@pytest.mark.parametrize("full", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("name", ["single-main", "twin"])
def test_flows_by_continuity_are_those_of_the_whole_network(name, full):
    """Where closed valves carry nothing, continuity gives what solving for pressures gives."""
    layout = load(DEMOS / f"{name}.yaml")
    found = survey(layout)
    network = for_fuelling(layout, found)
    port = next(iter(layout.fill_ports))
    pump = Pump(network, node_of(network, f"{port}.tube"), np.array([LITRE_A_MINUTE]))
    tapped = pump.at_rest().tapped
    assert network.blocked.any()
    held, one = full * network.tanks.capacity[None], np.zeros(1, dtype=np.intp)
    quick = tapped.remembering(1)(one, one, held, network.tanks.capacity - held)
    assert not quick.solved.any()
    plumbed = tapped.plumbed
    whole = solve(plumbed.circuit, tapped.conditions(one, one, held))
    gained = (whole.flow * whole.share) @ plumbed.gains
    assert quick.rate == pytest.approx(gained[:, plumbed.tank_node], abs=1e-9 * LITRE_A_MINUTE)
    assert quick.spilt == pytest.approx(gained[:, plumbed.outlet_node], abs=1e-9 * LITRE_A_MINUTE)
