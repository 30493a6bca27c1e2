"""Compiled lines against pencil and paper, and the breakdown against what was solved."""

import math
from dataclasses import replace

import fluids
import numpy as np
import pytest
from network.wiring import wire

from plumbing import api
from plumbing.hydraulics.breakdown import breakdown
from plumbing.hydraulics.compile import compile_suction
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.line_elements import BARB_LENGTH, ENTRY, Reference
from plumbing.hydraulics.losses import Moving, branch_loss, compile_losses
from plumbing.hydraulics.solver import solve
from plumbing.model.line import Elbow
from plumbing.model.parts import Joint
from plumbing.network import survey

from .networks import JUNCTION, OUTSIDE, circuit

RHO, MU, BORE, FLOW = 800.0, 1.3e-3, 4e-3, 2.5e-6
REFERENCE = Reference(flow=FLOW, viscosity=MU)
AREA = math.pi / 4.0 * BORE**2
RE = RHO * FLOW / AREA * BORE / MU
HEAD = 0.5 * RHO * (FLOW / AREA) ** 2
DEMOS = ("bad", "chained-pair", "single-main", "teed-pair", "teed-pair-repaired", "twin")


def line(joint=None, **more):
    """A vented tank, one line of 1 m, an engine that draws by itself; all at one height."""
    layout = wire("vent - main.vent; main.pick - engine")
    tank = layout.tanks["main"]
    ports = {name: replace(port, bore=BORE, pickup=None) for name, port in tank.ports.items()}
    feed = next(name for name, one in layout.lines.items() if one.to == "engine.feed")
    own = replace(layout.lines[feed], cut_length=1.0, joint=joint and joint.name, **more)
    return replace(
        layout,
        tanks={"main": replace(tank, ports=ports)},
        lines={**layout.lines, feed: own},
        tubes={"tube": replace(layout.tubes["tube"], roughness=0.0)},
        joints={joint.name: joint} if joint else {},
    )


def suction(layout, flow=FLOW, **more):
    """Suction at the engine [Pa], less what the vent line adds."""
    plumbed = compile_suction(layout, survey(layout), REFERENCE)
    circuit = plumbed.circuit
    demand = plumbed.demand(np.array([[flow]]))
    conditions = Conditions.of(
        circuit, liquid_density=RHO, liquid_viscosity=MU, demand=demand, **more
    )
    pressure = solve(circuit, conditions).pressure[0]
    return float(pressure[plumbed.tank_node[0]] - pressure[plumbed.demand_node[0]])


@pytest.mark.outside(
    "Hagen-Poiseuille; Hooper's entrance 0.5 + 160/Re; 1.28 heads of a developing profile",
    quantity="drop of 1 m of tube",
)
def test_straight_line_alone():
    """A metre of 4 mm tube costs 128 mu L q / (pi d^4), its entry and the mouth in the tank."""
    poiseuille = 128.0 * MU * 1.0 * FLOW / (math.pi * BORE**4)
    by_hand = poiseuille + (1.28 + 0.5 + 160.0 / RE) * HEAD
    assert suction(line(), band=0.0) == pytest.approx(by_hand, rel=1e-6)


@pytest.mark.outside(
    "second method: fluids; sharp contraction and expansion by Hooper, and by Crane and Borda",
    quantity="drop of a barb, both bounds",
)
@pytest.mark.parametrize("narrow", [2.5e-3, 3.0e-3, 3.5e-3])
@pytest.mark.parametrize("band", [0.0, 1.0])
def test_bore_of_the_barb_counts(narrow, band):
    """A barb narrower than its tube costs a contraction, its own length and an expansion."""
    barb = Joint(name="barb", kind="barb", bore=narrow)
    velocity = FLOW / (math.pi / 4.0 * narrow**2)
    number = RHO * velocity * narrow / MU
    if band:
        k = fluids.contraction_sharp(BORE, narrow, Re=RE, method="Hooper")
        k += fluids.diffuser_sharp(narrow, BORE, Re=number, method="Hooper")
    else:
        k = fluids.contraction_conical_Crane(BORE, narrow, angle=180.0)
        k += fluids.diffuser_sharp(narrow, BORE)
    own = 128.0 * MU * BARB_LENGTH * FLOW / (math.pi * narrow**4)
    each = k * 0.5 * RHO * velocity**2 + own
    added = suction(line(barb), band=band) - suction(line(), band=band)
    assert added == pytest.approx(2.0 * each, rel=1e-3)


def test_shaping_of_the_profile_is_counted_once():
    """Developing flow is charged to the tube; a barb's own length pays plain friction."""
    layout = line(Joint(name="barb", kind="barb", bore=3e-3))
    tubes = compile_suction(layout, survey(layout), REFERENCE).circuit.tubes
    barbs = tubes.length == BARB_LENGTH
    assert barbs.sum() == 2
    assert (tubes.entry[barbs] == 0.0).all()
    assert (tubes.entry[tubes.length == 1.0] == ENTRY).all()


def test_barb_wider_than_the_tube_costs_nothing():
    """A joint as wide as its tube adds nothing."""
    assert suction(line(Joint(name="wide", kind="push-in", bore=5e-3))) == suction(line())


def test_stated_coefficient_takes_the_place_of_the_barb():
    """A joint with its own loss coefficient is priced by that, on its own bore."""
    joint = Joint(name="own", kind="barb", bore=3e-3, loss_coefficient=1.2)
    head = 0.5 * RHO * (FLOW / (math.pi / 4.0 * 9e-6)) ** 2
    assert suction(line(joint)) - suction(line()) == pytest.approx(2.4 * head, rel=1e-9)


@pytest.mark.outside(
    "second method: fluids, helical_laminar_fd_White", quantity="drop of a curved tube"
)
def test_routed_corner_costs_a_curved_tube():
    """A right angle of 30 mm radius is priced as that length of curved tube."""
    radius = 0.03
    layout = line(bend_radius=radius, route=((0.2, 0.0, 0.0),))
    engine = replace(layout.engines["engine"], at=(0.2, 0.3, 0.0))
    curved = suction(replace(layout, engines={"engine": engine}))
    length = math.pi / 2.0 * radius
    factor = fluids.helical_laminar_fd_White(RE, BORE, 2.0 * radius)
    more = (factor - 64.0 / RE) * length / BORE * HEAD
    assert more > 1.0
    assert curved - suction(line()) == pytest.approx(more, rel=0.01)


@pytest.mark.outside(
    "second method: fluids, Hooper2K and Darby3K", quantity="drop of an elbow, both bounds"
)
@pytest.mark.parametrize(("band", "method"), [(0.0, "three-K"), (1.0, "two-K")])
def test_elbow_in_a_line_has_both_bounds(band, method):
    """An elbow costs its three-K coefficient at the low end of the band, two-K at the high."""
    layout = line(fittings=(Elbow(kind="elbow-90", bore=BORE),))
    names = {
        "two-K": "Elbow, 90°, Standard (R/D = 1), Screwed",
        "three-K": "Elbow, 90°, threaded, standard, (r/D = 1)",
    }
    inches = BORE / 0.0254
    if method == "two-K":
        k = fluids.Hooper2K(Di=inches, Re=RE, name=names[method])
    else:
        _, ki, kd = fluids.fittings.Darby[names[method]]
        low, _ = fluids.fittings.Hooper[names["two-K"]]
        k = low / RE + ki * (1.0 + kd / inches**0.3)
        assert k == pytest.approx(fluids.Darby3K(NPS=inches, Re=RE, name=names[method]), rel=0.02)
    added = suction(layout, band=band) - suction(line(), band=band)
    assert added == pytest.approx(k * HEAD, rel=1e-3)


def test_bore_tolerance_scales_the_drop():
    """A bore 5 % wider costs 1.05^-4 of the friction."""
    layout = line()
    wide = Reference(flow=FLOW, viscosity=MU, bore_offset=0.05 * BORE)
    drops = []
    for reference in (REFERENCE, wide):
        plumbed = compile_suction(layout, survey(layout), reference)
        tubes = plumbed.circuit.tubes
        longest = int(np.argmax(tubes.length))
        drops.append(tubes.length[longest] / tubes.bore[longest] ** 4)
    assert drops[1] / drops[0] == pytest.approx(1.05**-4, rel=1e-12)


def solved(name, flow_factor=1.0):
    """A demo's suction side solved at full flow, all tanks half full."""
    layout = api.load(f"layouts/{name}.yaml")
    plumbed = compile_suction(layout, survey(layout), REFERENCE)
    circuit = plumbed.circuit
    rng = np.random.default_rng(3)
    demand = plumbed.demand(flow_factor * rng.uniform(1e-6, 9e-6, (6, len(plumbed.demands))))
    head = np.where(plumbed.end_tank >= 0, 200.0, 0.0)
    gravity = rng.normal(size=(6, 3)) * 5.0 + np.array([0.0, 0.0, -9.8])
    conditions = Conditions.of(
        circuit,
        demand=demand,
        head=head,
        gravity=gravity,
        dirt=np.broadcast_to(plumbed.dirty, (6, len(plumbed.dirty))),
        band=0.3,
    )
    return plumbed, conditions, solve(circuit, conditions)


@pytest.mark.parametrize("name", DEMOS)
def test_breakdown_and_heads_make_up_the_pressures(name):
    """Along every branch, drops less standing pressure are the pressure difference, to 0.01 Pa."""
    plumbed, conditions, solution = solved(name)
    circuit = plumbed.circuit
    parts = breakdown(circuit, conditions, solution)
    drops = np.zeros(solution.flow.shape)
    np.add.at(drops.T, circuit.element_branch, parts.drop.T)
    along = np.sign(solution.flow) * drops - parts.static
    difference = solution.pressure[:, circuit.start] - solution.pressure[:, circuit.end]
    moving = (solution.flow != 0.0) & solution.converged[:, None]
    assert moving.any()
    assert along[moving] == pytest.approx(difference[moving], abs=0.01)


@pytest.mark.parametrize("name", DEMOS)
def test_elements_of_a_branch_sum_to_its_loss(name):
    """Element by element, bends included, a branch costs what the solver prices it at."""
    plumbed, conditions, solution = solved(name)
    circuit = plumbed.circuit
    parts = breakdown(circuit, conditions, solution)
    rows = (len(solution.flow), len(circuit.branches))
    share = solution.share
    density = 1.225 + share * (800.0 - 1.225)
    viscosity = 1.79e-5 + share * (1.3e-3 - 1.79e-5)
    moving = Moving(np.abs(solution.flow), solution.flow >= 0.0, density, viscosity)
    loss, _ = branch_loss(compile_losses(circuit), conditions, moving)
    drops = np.zeros(rows)
    np.add.at(drops.T, circuit.element_branch, parts.drop.T)
    assert circuit.tubes.bend_length.max() > 0.0
    assert drops == pytest.approx(loss, rel=1e-9, abs=1e-9)
    total = np.zeros(rows)
    np.add.at(total.T, circuit.element_branch, parts.share.T)
    assert total[loss > 0.0] == pytest.approx(1.0)


@pytest.mark.parametrize("name", ["chained-pair", "single-main", "teed-pair-repaired"])
def test_suction_is_the_sum_of_the_path(name):
    """From the open vent to the pump, drops less heads come to the suction, to 0.01 Pa."""
    plumbed, conditions, solution = solved(name)
    circuit = plumbed.circuit
    parts = breakdown(circuit, conditions, solution)
    drops = np.zeros(solution.flow.shape)
    np.add.at(drops.T, circuit.element_branch, parts.drop.T)
    for row in range(len(drops)):
        node, suction_here = int(plumbed.demand_node[0]), 0.0
        while not circuit.fixed[node]:
            into = [
                (branch, int(circuit.start[branch]), 1.0)
                for branch in np.flatnonzero(circuit.end == node)
                if solution.flow[row, branch] > 0.0
            ] + [
                (branch, int(circuit.end[branch]), -1.0)
                for branch in np.flatnonzero(circuit.start == node)
                if solution.flow[row, branch] < 0.0
            ]
            branch, node, sense = into[0]
            suction_here += drops[row, branch] - sense * parts.static[row, branch]
        assert suction_here == pytest.approx(
            -solution.pressure[row, plumbed.demand_node[0]], abs=0.01
        )


@pytest.mark.outside("sharp orifice, by hand", quantity="air through a hole")
@pytest.mark.parametrize("suction", [1.0, 100.0, 10e3, 90e3])
def test_a_small_hole_passes_what_its_suction_draws(suction):
    """Air through 0.3 mm into a wide tube under suction: 0.6 area sqrt(2 pressure / density)."""
    bore, discharge = 0.3e-3, 0.6
    network = circuit(
        {"ambient": OUTSIDE, "joint": JUNCTION, "away": OUTSIDE},
        {"hole": ("ambient", "joint"), "tube": ("joint", "away")},
        fittings={"hole": [(0.0, discharge**-2, discharge**-2, bore)]},
        tubes={"tube": [(0.1, 20e-3)]},
    )
    conditions = Conditions.of(network, fixed_pressure=[0.0, 0.0, -suction], share=0.0)
    solution = solve(network, conditions)
    assert solution.converged[0]
    area, density = 0.25 * np.pi * bore**2, float(conditions.gas_density[0])
    drawn = discharge * area * np.sqrt(-2.0 * solution.pressure[0, 1] / density)
    assert solution.pressure[0, 1] == pytest.approx(-suction, rel=1e-2)
    assert solution.flow[0] == pytest.approx(drawn, rel=1e-3)
