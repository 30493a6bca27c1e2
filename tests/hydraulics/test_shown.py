"""What the network must show by itself: air at a tee, wet pickups, vents, stand-pipes, siphons."""

import numpy as np
import pytest

from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.solver import solve

from .networks import JUNCTION, OUTSIDE, TANK, circuit

G = 9.80665
RHO, MU = 800.0, 1.3e-3
MINUTE = 1e-6 / 60.0  # ml/min in m3/s


def poiseuille(flow, length, bore, mu=MU):
    """Laminar drop by hand [Pa]."""
    return 128.0 * mu * length * flow / (np.pi * bore**4)


def teed_pair(**given):
    """Two vented tanks, 0.5 m of 4 mm each to a tee, and a pump just behind it."""
    network = circuit(
        {"dry": OUTSIDE, "wet": OUTSIDE, "tee": JUNCTION, "pump": JUNCTION},
        {"from dry": ("dry", "tee"), "from wet": ("wet", "tee"), "to pump": ("tee", "pump")},
        tubes={"from dry": [(0.5, 4e-3)], "from wet": [(0.5, 4e-3)], "to pump": [(0.1, 4e-3)]},
    )
    share = [[0.0, 0.0], [1.0, 0.0], [0.0, 0.0]]
    given = {"share": share, "liquid_density": RHO, "liquid_viscosity": MU} | given
    return network, Conditions.of(network, **given)


def test_a_tee_takes_air_as_soon_as_one_port_is_dry():
    """Air is seventy times thinner than kerosene, so the dry side gives over 95 % of the flow."""
    network, conditions = teed_pair(demand=[0, 0, 0, 160 * MINUTE])
    solution = solve(network, conditions)
    assert solution.converged.all()
    assert solution.share[0, 2] < 0.05
    assert solution.flow[0, 0] > 20 * solution.flow[0, 1] > 0


@pytest.mark.outside("Hagen-Poiseuille, by hand", quantity="suction and opening flow")
def test_a_wet_pore_holds_air_back_until_its_bubble_point():
    """Only liquid flows while the liquid's own drop is below the bubble point, air beyond it."""
    opens_at = 300.0 / poiseuille(1.0, 0.5, 4e-3)
    threshold = np.zeros((3, 2))
    threshold[0, 0] = 300.0
    drawn = np.array([0.99, 1.01]) * opens_at
    network, conditions = teed_pair(
        demand=np.array([0, 0, 0, 1]) * drawn[:, None], threshold=threshold
    )
    solution = solve(network, conditions)
    assert solution.flow[0, 0] == 0.0
    assert solution.share[0, 2] == 1.0
    assert solution.pressure[0, 2] == pytest.approx(-poiseuille(drawn[0], 0.5, 4e-3), rel=1e-9)
    assert solution.flow[1, 0] > 0.0
    assert solution.share[1, 2] < 1.0
    assert solution.pressure[1, 2] < -300.0


def chain(near_vent):
    """Far tank, near tank, pump; the far one vented, the near one too or not."""
    branches = {
        "vent": ("outside", "far"),
        "transfer": ("far", "near"),
        "feed": ("near", "pump"),
    }
    tubes = {"vent": [(0.2, 4e-3)], "transfer": [(0.5, 4e-3)], "feed": [(0.3, 4e-3)]}
    if near_vent:
        branches["second vent"] = ("outside", "near")
        tubes["second vent"] = [(0.2, 4e-3)]
    kinds = {"outside": OUTSIDE, "far": TANK, "near": TANK, "pump": JUNCTION}
    network = circuit(kinds, branches, tubes=tubes)
    share = np.where(np.array(list(branches))[:, None] == "vent", 0.0, 1.0) * np.ones(2)
    if near_vent:
        share[-1] = 0.0
    return solve(network, Conditions.of(network, share=share, demand=[0, 0, 0, 160 * MINUTE]))


def test_a_chain_feeds_from_its_far_tank():
    """With one vent, at the far end, all that leaves the near tank comes from the far one."""
    solution = chain(near_vent=False)
    np.testing.assert_allclose(solution.flow[0], 160 * MINUTE, rtol=1e-12)


def test_a_second_open_vent_reverses_a_chain():
    """Air through the second vent replaces the near tank's fuel: the far tank stands still."""
    solution = chain(near_vent=True)
    assert solution.converged.all()
    assert abs(solution.flow[0, 1]) < 0.03 * 160 * MINUTE
    assert solution.flow[0, 3] > 0.97 * 160 * MINUTE


def stand_pipe(pressure):
    """A vertical pipe of 0.3 m between an open end above and a wet port below, 0 Pa in the tank."""
    network = circuit(
        {"tank": OUTSIDE, "above": OUTSIDE},
        {"pipe": ("tank", "above", [[0, 0, 0], [0, 0, 0.3]])},
        tubes={"pipe": [(0.3, 4e-3)]},
    )
    conditions = Conditions.of(
        network,
        fixed_pressure=np.stack([pressure, np.zeros_like(pressure)], axis=-1),
        share=[[1.0, 0.0]],
        liquid_density=RHO,
        liquid_viscosity=MU,
        gas_density=1.2,
    )
    return solve(network, conditions)


@pytest.mark.outside("Hydrostatics, by hand", quantity="range without flow")
def test_a_stand_pipe_stands_still_between_lifting_liquid_and_pushing_air_down():
    """No flow between 1.2 g 0.3 and 800 g 0.3 Pa; liquid rises above, air goes down below."""
    air, liquid = 1.2 * G * 0.3, RHO * G * 0.3
    solution = stand_pipe(np.array([air - 1.0, air + 1.0, 100.0, liquid - 5.0, liquid + 5.0]))
    assert solution.converged.all()
    assert (np.sign(solution.flow[:, 0]) == [-1, 0, 0, 0, 1]).all()
    assert solution.flow[4, 0] == pytest.approx(5.0 / poiseuille(1.0, 0.3, 4e-3), rel=1e-9)
    assert list(solution.share[[0, 4], 0]) == [0.0, 1.0]


def test_a_stand_pipe_in_a_loop_stands_still_too():
    """The same pipe from a junction that is fed with liquid beside it."""
    network = circuit(
        {"tank": OUTSIDE, "foot": JUNCTION, "above": OUTSIDE, "pump": JUNCTION},
        {
            "supply": ("tank", "foot", [[0, 0, 0], [0.2, 0, 0]]),
            "pipe": ("foot", "above", [[0.2, 0, 0], [0.2, 0, 0.3]]),
            "feed": ("foot", "pump", [[0.2, 0, 0], [0.5, 0, 0]]),
        },
        tubes={"supply": [(0.2, 4e-3)], "pipe": [(0.3, 4e-3)], "feed": [(0.3, 4e-3)]},
    )
    conditions = Conditions.of(
        network,
        head=[[1000.0, 0], [0, 0], [0, 0]],
        share=[[1, 0], [0, 0], [0, 0]],
        demand=[0, 0, 0, 160 * MINUTE],
    )
    solution = solve(network, conditions)
    assert solution.converged.all()
    assert solution.flow[0, 1] == 0.0
    assert solution.share[0, 2] == 1.0


def overflow(start=None, suction=-200.0):
    """An overflow line from a covered port to an open end 0.5 m below, the tank under suction."""
    network = circuit(
        {"tank": OUTSIDE, "below": OUTSIDE},
        {"overflow": ("tank", "below", [[0, 0, 0], [0, 0, -0.5]])},
        tubes={"overflow": [(0.8, 4e-3)]},
    )
    conditions = Conditions.of(
        network,
        fixed_pressure=[suction, 0.0],
        share=[[1.0, 0.0]],
        liquid_density=RHO,
        liquid_viscosity=MU,
    )
    return solve(network, conditions, start)


def test_a_line_full_of_air_does_not_start_to_siphon_by_itself():
    """200 Pa of suction draw air in through the line as long as nothing primes it."""
    solution = overflow()
    assert solution.flow[0, 0] < 0.0
    assert solution.share[0, 0] == 0.0


@pytest.mark.outside("Hagen-Poiseuille and hydrostatics, by hand", quantity="siphon flow")
def test_a_primed_line_goes_on_siphoning():
    """The same line full of fuel runs out with rho g h less the suction, against laminar loss."""
    solution = overflow(start=np.array([[1e-6]]), suction=-3000.0)
    left = RHO * G * 0.5 - 3000.0
    assert solution.flow[0, 0] == pytest.approx(left / poiseuille(1.0, 0.8, 4e-3), rel=1e-9)


def test_a_primed_line_breaks_when_suction_exceeds_its_height():
    """Once suction is more than rho g h, a primed line too draws air."""
    assert overflow(start=np.array([[1e-6]]), suction=-RHO * G * 0.5 - 10.0).flow[0, 0] < 0.0


@pytest.mark.outside("Torricelli, by hand", quantity="outflow of a hole")
def test_a_hole_lets_out_what_torricelli_says():
    """With one velocity head of loss and nothing else, v = sqrt(2 g h)."""
    bore, depth = 3e-3, 0.2
    network = circuit(
        {"tank": OUTSIDE, "below": OUTSIDE},
        {"hole": ("tank", "below")},
        fittings={"hole": [(0.0, 1.0, 1.0, bore)]},
    )
    head = [[RHO * G * depth, 0.0]]
    solution = solve(
        network, Conditions.of(network, head=head, share=[[1.0, 0.0]], liquid_density=RHO)
    )
    assert solution.converged.all()
    expected = np.pi / 4 * bore**2 * np.sqrt(2 * G * depth)
    assert solution.flow[0, 0] == pytest.approx(expected, rel=1e-6)


def test_equal_tanks_give_equal_flows():
    """A symmetric teed pair divides in halves, whatever the load factor."""
    loads = np.linspace(0.0, 9.0, 10)
    network, conditions = teed_pair(
        share=[[1.0, 0.0], [1.0, 0.0], [0.0, 0.0]],
        demand=[0, 0, 0, 160 * MINUTE],
        gravity=np.array([0.0, 0.0, -G]) * loads[:, None],
    )
    np.testing.assert_allclose(solve(network, conditions).flow[:, :2], 80 * MINUTE, rtol=1e-9)


def test_a_check_valve_passes_one_way_only_and_above_its_cracking_pressure():
    """Two openings 600 Pa apart: 500 Pa of cracking leave 100 Pa; 700 Pa leave nothing."""
    network = circuit(
        {"high": OUTSIDE, "low": OUTSIDE}, {"line": ("high", "low")}, tubes={"line": [(0.5, 4e-3)]}
    )

    def flow(cracking, blocked, high=600.0):
        given = dict(share=1.0, liquid_viscosity=MU, fixed_pressure=[high, 0.0])
        conditions = Conditions.of(
            network, threshold=[[cracking, 0.0]], blocked=[[False, blocked]], **given
        )
        return solve(network, conditions).flow[0, 0]

    assert flow(500.0, True) == pytest.approx(100.0 / poiseuille(1.0, 0.5, 4e-3), rel=1e-9)
    assert flow(700.0, True) == 0.0
    assert flow(0.0, True, high=-600.0) == 0.0
    assert flow(0.0, False, high=-600.0) < 0.0
