"""Sizing is optimal, and what it says of suctions is what a new solve says."""

import itertools
import random
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from plumbing import layout as layouts
from plumbing.checks.examined import examine
from plumbing.model.layout import Layout
from plumbing.network import survey
from plumbing.simulation.peak import peak_flow
from plumbing.simulation.peak_networks import solved_network
from plumbing.studies.sizing import SizingLimits, size
from plumbing.studies.sizing.bench import Bench, bench, cases_of
from plumbing.studies.sizing.search import Group, cheapest, fewest

DEMOS = sorted((Path(__file__).parents[2] / "layouts").glob("*.yaml"))
GOOD = [path for path in DEMOS if path.stem != "bad"]
SHELF = ("polyurethane 4x2.5", "nylon 6x4", "polyurethane 8x5")
FITTED = (
    "inlet-suction-too-high",
    "cold-suction-too-high",
    "loaded-suction-too-high",
    "dirty-suction-too-high",
    "suction-flow-too-fast",
    "tube-loose-on-barb",
    "tube-size-mismatch",
    "soft-tube-collapses",
    "tube-attacked-by-kerosene",
    "narrow-bore-on-suction-side",
    "vent-narrower-than-fill",
)


def desk(layout: Layout, new_joints: bool) -> Bench:
    """The priced lines of a layout."""
    found = survey(layout)
    solved = solved_network(layout, found, cases_of(layout))
    assert solved is not None
    return bench(layout, found, solved, SizingLimits(), new_joints)


def enumerated(groups: Sequence[Group], room: np.ndarray) -> float:
    """Least cost over every choice there is."""
    sizes = [len(group.cost) for group in groups]

    def total(columns: Sequence[np.ndarray]) -> np.ndarray:
        sums = np.zeros(sizes)
        for k, column in enumerate(columns):
            sums += column.reshape([-1 if n == k else 1 for n in range(len(sizes))])
        return sums

    able = np.ones(sizes, bool)
    for row in range(len(room)):
        able &= total([group.drop[:, row] for group in groups]) <= room[row] * (1 + 1e-12)
    cost = total([group.cost for group in groups])
    return float(cost[able].min()) if able.any() else np.inf


def by_milp(groups: Sequence[Group], room: np.ndarray) -> float:
    """Least cost by integer programming."""
    cost = np.concatenate([group.cost for group in groups])
    drop = np.concatenate([group.drop for group in groups]).T
    one = np.zeros((len(groups), len(cost)))
    at = 0
    for k, group in enumerate(groups):
        one[k, at : at + len(group.cost)] = 1.0
        at += len(group.cost)
    scale = 1.0 / np.abs(room)[:, None]
    found = milp(
        1e3 * cost,
        constraints=[
            LinearConstraint(drop * scale, -np.inf, room * scale[:, 0]),
            LinearConstraint(one, 1.0, 1.0),
        ],
        integrality=np.ones(len(cost)),
        bounds=Bounds(0.0, 1.0),
        options={"mip_rel_gap": 0.0},
    )
    return np.inf if found.x is None else float(cost @ found.x.round())


def fit_groups(found: Bench) -> list[Group]:
    """Candidates that are not ruled out."""
    return [Group(x.group.cost[x.fits], x.group.drop[x.fits]) for x in found.lines]


def spent(groups: Sequence[Group], places: tuple[int, ...] | None) -> float:
    """Cost of a choice."""
    if places is None:
        return np.inf
    return sum(float(g.cost[k]) for g, k in zip(groups, places, strict=True))


@pytest.mark.slow
@pytest.mark.outside("exhaustive enumeration", quantity="optimum of a made-up choice")
def test_search_equals_enumeration_on_made_up_choices() -> None:
    """On 300 random cases, many of them with ties and impossible limits, the cost is least."""
    dice = random.Random(11)
    for _ in range(300):
        count, rows = dice.randint(1, 5), dice.randint(1, 4)
        groups = []
        for _ in range(count):
            own = dice.randint(1, 4)
            cost = np.array([dice.randint(1, 9) / 10 for _ in range(own)])
            drop = np.array(
                [[dice.choice((0.0, 1.0, 2.5, 4.0)) for _ in range(rows)] for _ in range(own)]
            )
            groups.append(Group(cost, drop))
        room = np.array([dice.uniform(0.0, 4.0 * count) for _ in range(rows)])
        places = cheapest(groups, room)
        assert spent(groups, places) == pytest.approx(enumerated(groups, room))
        if places is not None:
            used = sum(g.drop[k] for g, k in zip(groups, places, strict=True))
            assert (used <= room + 1e-6).all()


@pytest.mark.outside("exhaustive enumeration", quantity="fewest tubes of a made-up choice")
def test_fewest_tubes_equals_enumeration() -> None:
    """No choice has fewer different tubes, and none with as few is cheaper."""
    dice, kinds = random.Random(5), ("a", "b", "c", "d")
    for _ in range(120):
        groups, names = [], []
        for _ in range(dice.randint(1, 4)):
            own = dice.sample(kinds, dice.randint(1, 4))
            names.append(own)
            groups.append(
                Group(
                    np.array([dice.randint(1, 9) / 10 for _ in own]),
                    np.array([[dice.uniform(0, 3)] for _ in own]),
                )
            )
        room = np.array([dice.uniform(0, 6)])
        best = (99, np.inf)
        for choice in itertools.product(*(range(len(own)) for own in names)):
            if sum(g.drop[k, 0] for g, k in zip(groups, choice, strict=True)) <= room[0]:
                tubes = {own[k] for own, k in zip(names, choice, strict=True)}
                best = min(best, (len(tubes), spent(groups, choice)))
        places = fewest(groups, room, names)
        if places is None:
            assert best[0] == 99
            continue
        tubes = {own[k] for own, k in zip(names, places, strict=True)}
        assert len(tubes) == best[0]
        assert spent(groups, places) == pytest.approx(best[1])


@pytest.mark.quick("wings-into-main", "single-main")
@pytest.mark.outside("exhaustive enumeration", quantity="lightest tubes of every demo, three sizes")
@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_demos_are_sized_as_enumeration_sizes_them(path: Path) -> None:
    """With three sizes on the shelf, every one of up to 531 441 choices is compared."""
    layout = layouts.load(path)
    shelf = {name: layout.catalogue[name] for name in SHELF}
    small = replace(
        layout,
        catalogue={**shelf, **{line.tube: layout.tube_of(line) for line in layout.lines.values()}},
    )
    found = desk(small, new_joints=True)
    groups = fit_groups(found)
    room = found.rows.limit - found.base
    for share in (1.0, 0.6):
        tight = found.rows.limit * share - found.base
        assert spent(groups, cheapest(groups, tight)) == pytest.approx(enumerated(groups, tight))
    assert spent(groups, cheapest(groups, room)) < np.inf


@pytest.mark.quick("False")
@pytest.mark.outside("scipy.optimize.milp (HiGHS)", quantity="lightest tubes, whole catalogue")
@pytest.mark.parametrize("new_joints", [False, True])
@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_demos_are_sized_as_integer_programming_sizes_them(path: Path, new_joints: bool) -> None:
    """Over the whole catalogue the mass is that of an independent solver."""
    found = desk(layouts.load(path), new_joints)
    groups = fit_groups(found)
    room = found.rows.limit - found.base
    assert spent(groups, cheapest(groups, room)) == pytest.approx(by_milp(groups, room), rel=1e-6)


@pytest.mark.quick("single-main", "repaired")
@pytest.mark.parametrize("new_joints", [False, True])
@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_what_is_chosen_is_what_a_new_solve_gives(path: Path, new_joints: bool) -> None:
    """The sum of priced lines and a new solve of the chosen layout agree, and keep the limits."""
    layout = layouts.load(path)
    found = size(layout, survey(layout), new_joints=new_joints)
    assert not found.blocked
    assert max(found.after.values()) <= 1.0 + 1e-9
    assert found.mass_after <= found.mass_before * (1.0 + 1e-9)
    tolerance = 1e-3 if path.stem in ("teed-pair",) else 1e-6
    assert 1.0 - max(found.after.values()) == pytest.approx(found.curve[0].margin, abs=tolerance)
    masses = [point.mass for point in found.curve]
    margins = [point.margin for point in found.curve]
    assert masses == sorted(masses)
    assert margins == sorted(margins)


@pytest.mark.quick("single-main", "chained-pair")
@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_the_checks_agree_with_the_choice(path: Path) -> None:
    """On the layout as sized, no check of what sizing keeps finds a new fault."""
    layout = layouts.load(path)
    before = {(f.check, f.part) for f in examine(layout).findings if f.check in FITTED}
    found = size(layout, survey(layout))
    after = {(f.check, f.part) for f in examine(found.layout).findings if f.check in FITTED}
    assert after <= before


def test_why_not_smaller_is_true() -> None:
    """Where suction forbids the next size down, that size solved anew is over the limit."""
    layout = layouts.load(DEMOS[0].with_name("single-main.yaml"))
    found = size(layout, survey(layout), new_joints=True)
    told = [choice for choice in found.choices if choice.why.startswith("suction at")]
    assert told
    from plumbing.studies.sizing.variants import with_tubes

    for choice in told:
        other = with_tubes(found.layout, dict.fromkeys(choice.lines, choice.smaller), True)
        peak = peak_flow(other, survey(other)).engines["engine"]
        limits = SizingLimits()
        assert (
            peak.suction.value > limits.usual
            or peak.coldest.suction.value > limits.coldest
            or peak.loaded.suction.value > limits.loaded
            or peak.dirty.suction.value > limits.dirty
        )


def test_few_kinds_is_never_more_kinds() -> None:
    """Preferring few sizes buys no more kinds of tube than preferring light ones, at more mass."""
    layout = layouts.load(DEMOS[0].with_name("wings-into-main.yaml"))
    light = size(layout, survey(layout), new_joints=True)
    few = size(layout, survey(layout), prefer="few", new_joints=True)
    assert len({c.tube for c in few.choices}) < len({c.tube for c in light.choices})
    assert few.mass_after >= light.mass_after
    assert max(few.after.values()) <= 1.0


def test_what_cannot_be_sized_says_why() -> None:
    """Joints that no tube of the shelf fits are named; nothing is chosen."""
    layout = layouts.load(DEMOS[0].with_name("single-main.yaml"))
    joints = {name: replace(one, outside_diameter=40e-3) for name, one in layout.joints.items()}
    found = size(replace(layout, joints=joints), survey(layout))
    assert found.choices == ()
    assert any("barb-4" in why for why in found.blocked)
    strict = size(layout, survey(layout), SizingLimits(usual=100.0))
    assert "over the 0.1 kPa allowed" in strict.blocked[0]
