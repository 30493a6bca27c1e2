"""Fuel in pockets: basins, ridges and what each holds, by hand and by a flood of voxels."""

import numpy as np
import pytest
from blocks import Flood, of_blocks, random_blocks

from plumbing.geometry import solids
from plumbing.geometry.basins import basins, is_plain
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.pockets import pockets
from plumbing.geometry.turning import turn_along

LONG = 0.2
LEG, TALL, ROOF = 0.04, 0.10, 0.15  # width and height of the legs, height over all
INVERTED = [
    (-0.10, 0.0),
    (-0.06, 0.0),
    (-0.06, TALL),
    (0.06, TALL),
    (0.06, 0.0),
    (0.10, 0.0),
    (0.10, ROOF),
    (-0.10, ROOF),
]
STEPPED = [(0.0, 0.0), (0.1, 0.0), (0.1, 0.05), (0.25, 0.05), (0.25, 0.2), (0.0, 0.2)]
EXACT = 1e-9


def prism(outline):
    """A prism 0.2 m long with an outline given as [y, z]."""
    return solids.prism([0.0, LONG], [outline, outline])


def down(roll=0.0, pitch=0.0):
    """Direction of gravity, starboard down by roll and nose (-x) up by pitch [deg]."""
    roll, pitch = np.radians(roll), np.radians(pitch)
    return np.array([np.sin(pitch), np.sin(roll) * np.cos(pitch), -np.cos(roll) * np.cos(pitch)])


def basin_of(tree, points, row=0):
    """Numbers of the basins at some points in one direction."""
    return tree.basin_at(np.array(points), np.full(len(points), row))


def turned(found, volume, before, after):
    """Fuel after a turn from one direction to the next."""
    before, after = np.array([before]), np.array([after])
    return found.turned(volume, before, after, found.drowning(before, after))


def below_line(outline, corner, roll):
    """Area of an outline below a level through a corner: polygon clipped edge by edge."""
    down_yz = np.array([np.sin(np.radians(roll)), -np.cos(np.radians(roll))])
    deep = [(np.array(p) - corner) @ down_yz for p in outline]
    kept = []
    for k in range(len(outline)):
        a, b = np.array(outline[k - 1]), np.array(outline[k])
        if deep[k - 1] * deep[k] < 0.0:
            kept.append(a + (b - a) * deep[k - 1] / (deep[k - 1] - deep[k]))
        if deep[k] >= 0.0:
            kept.append(b)
    area = 0.0
    for k in range(len(kept)):
        (y, z), (v, w) = kept[k - 1], kept[k]
        area += 0.5 * (y * w - v * z)
    return abs(area)


@pytest.mark.outside("hand: area of a leg below a sloping line", quantity="fuel kept in a leg")
@pytest.mark.parametrize("roll", np.linspace(-60.0, 60.0, 13))
def test_legs_of_an_inverted_u_rolled(roll):
    """The higher leg holds its own length below a level through its inner upper corner."""
    found = pockets(prism(INVERTED), down(roll))
    port, starboard = basin_of(found.tree, [(0.1, -0.08, 0.05), (0.1, 0.08, 0.05)])
    high, low, corner = (port, starboard, -0.06) if roll >= 0.0 else (starboard, port, 0.06)
    slope = np.tan(np.radians(abs(roll)))
    depth = min(TALL / slope, LEG) if slope > 0.0 else LEG
    expected = LONG * (TALL * depth - 0.5 * slope * depth**2)
    assert found.holds[0, high] == pytest.approx(expected, abs=EXACT * 0.0036)
    every = below_line(INVERTED, (corner, TALL), roll)
    assert found.holds[0, low] == pytest.approx(LONG * every - expected, abs=EXACT * 0.0036)


@pytest.mark.outside("hand: a box below a level through its upper edge", quantity="fuel in a leg")
@pytest.mark.parametrize("pitch", [-25.0, -10.0, -3.0, 0.0, 4.0, 12.0, 20.0])
def test_legs_of_an_inverted_u_pitched(pitch):
    """Pitched, each leg is full up to the lower end of its inner upper edge."""
    found = pockets(prism(INVERTED), down(0.0, pitch))
    expected = LEG * (LONG * TALL - 0.5 * LONG**2 * np.tan(np.radians(abs(pitch))))
    np.testing.assert_allclose(found.holds[0, :2], expected, atol=EXACT * 0.0036)


@pytest.mark.outside("hand: a step tilted towards its wall", quantity="fuel on a step")
@pytest.mark.parametrize("roll", [1.0, 5.0, 12.0, 20.0])
def test_a_step(roll):
    """A step tilted down to its outer wall keeps a wedge, level with its inner edge."""
    found = pockets(prism(STEPPED), down(roll))
    lower, upper = basin_of(found.tree, [(0.1, 0.05, 0.01), (0.1, 0.24, 0.06)])
    wedge = 0.5 * 0.15**2 * np.tan(np.radians(roll)) * LONG
    assert found.holds[0, upper] == pytest.approx(wedge, abs=1e-12)
    well = below_line(STEPPED, (0.1, 0.05), roll) * LONG - wedge
    assert found.holds[0, lower] == pytest.approx(well, abs=1e-12)
    assert basins(prism(STEPPED), down(-roll)).count[0] == 1


@pytest.mark.outside("hand: communicating vessels", quantity="basins of a U-tube")
def test_a_u_tube_is_one_pool():
    """Upright, a U-tube has one basin and one level; upside down it has two."""
    tube = prism([(y, -z) for y, z in INVERTED][::-1])
    tree = basins(tube, np.array([down(), down(180.0)]))
    assert tree.count.tolist() == [1, 2]


@pytest.mark.outside("hand: boxes below a weir and below a window", quantity="baffled tank")
@pytest.mark.parametrize(("floor", "roof"), [(0.03, 0.08), (0.05, 0.07)])
def test_a_baffle_with_a_hole(floor, roof):
    """A wall with one hole keeps fuel below the hole's sill on both sides."""
    lines = [[0.0, 0.1, 0.102, 0.25], [0.0, 0.04, 0.06, 0.1], [0.0, floor, roof, 0.12]]
    chosen = np.ones((3, 3, 3), bool)
    chosen[1] = False
    chosen[1, 1, 1] = True
    found = pockets(of_blocks(lines, chosen), down())
    fore, aft = basin_of(found.tree, [(0.05, 0.05, 0.06), (0.2, 0.05, 0.06)])
    assert found.holds[0, [fore, aft]] == pytest.approx(
        [0.1 * 0.1 * floor, 0.148 * 0.1 * floor], abs=1e-12
    )
    upside = pockets(of_blocks(lines, chosen), down(180.0))
    fore, aft = basin_of(upside.tree, [(0.05, 0.05, 0.06), (0.2, 0.05, 0.06)])
    gas = upside.holds[0, [fore, aft]]
    assert gas == pytest.approx([0.1 * 0.1 * (0.12 - roof), 0.148 * 0.1 * (0.12 - roof)], abs=1e-12)


@pytest.mark.outside("hand: nothing lies under a body", quantity="basins round an inner box")
def test_the_underside_of_an_inner_body_is_no_basin():
    """Round a body that hangs free in it, and under a dent in its roof, a box is one basin."""
    lines = [[0.0, 0.05, 0.1, 0.2]] * 3
    for z in (1, slice(1, 3)):
        chosen = np.ones((3, 3, 3), bool)
        chosen[1, 1, z] = False
        mesh, rng = of_blocks(lines, chosen), np.random.default_rng(3)
        ways = rng.normal(size=(40, 3)) * 0.15 + [0.0, 0.0, -1.0]
        ways /= np.linalg.norm(ways, axis=1, keepdims=True)
        if z == 1:
            assert (basins(mesh, ways).count == 1).all()
        else:
            assert (basins(mesh, np.array([[0.0, 0.0, -1.0]])).count == 1).all()


def test_convex_solids_are_plain():
    """What is convex has one basin under any direction and is known to be so."""
    rng = np.random.default_rng(8)
    ways = rng.normal(size=(60, 3))
    ways /= np.linalg.norm(ways, axis=1, keepdims=True)
    for mesh in (
        solids.box((0.3, 0.1, 0.2)),
        solids.capsule(0.3, 0.1),
        solids.cylinder(0.3, 0.1),
        solids.ellipsoid((0.3, 0.1, 0.2)),
    ):
        assert is_plain(mesh)
        assert (basins(mesh, ways).count == 1).all()
    assert not is_plain(prism(INVERTED))


@pytest.mark.outside("second method: voxels taken in order of height", quantity="basins")
@pytest.mark.parametrize(
    "seed", [*range(8), *(pytest.param(k, marks=pytest.mark.slow) for k in range(8, 200))]
)
def test_a_flood_of_voxels_finds_the_same(seed):
    """Ridges, bottoms and volumes of random tanks are those of a flood, to its resolution."""
    rng = np.random.default_rng(seed)
    lines = [np.arange(n) * 0.05 for n in (5, 4, 5)]
    chosen = random_blocks(rng)
    mesh, fine = of_blocks(lines, chosen), 0.05 / 6
    way = rng.normal(size=3) * 0.5 + [0.0, 0.0, -1.0]
    way /= np.linalg.norm(way)
    found, flood = pockets(mesh, way), Flood(lines, chosen, way, fine)
    ours = _ridges(found)
    theirs = np.array([r for r in flood.ridges]).reshape(-1, 5)
    for one in ours:
        if one[0] - max(one[1:3]) < 3.0 * fine:
            continue
        near = np.abs(theirs[:, :3] - one[:3]).max(axis=1)
        alike = np.abs(theirs[near < 1.8 * fine, 4] - one[4])  # the shallower side: ties are free
        assert alike.min(initial=np.inf) < 0.1 * mesh.volume
    deep = (theirs[:, 0] - theirs[:, 1:3].max(axis=1)) > 4.0 * fine
    for one in theirs[deep]:
        assert np.abs(ours[:, :3] - one[:3]).max(axis=1).min() < 1.8 * fine


def _ridges(found):
    """Ridge, both bottoms, deeper first, and both volumes, of every node of one direction."""
    tree, rows = found.tree, []
    for node in range(tree.most, found.holds.shape[1]):
        sides = np.flatnonzero(tree.up[0] == node)
        bottoms = np.array([tree.low[0, np.flatnonzero(tree.inside[0, k])].min() for k in sides])
        sides, bottoms = sides[bottoms.argsort()], np.sort(bottoms)
        rows.append((tree.low[0, node], *bottoms, *found.holds[0, sides]))
    return np.array(rows).reshape(-1, 5)


@pytest.mark.outside("hand: legs of 0.8 L, ridge at 1.6 L", quantity="spilling over a ridge")
@pytest.mark.parametrize(
    ("poured", "lies"),
    [
        ((0.5, 0.7), (0.5, 0.7)),
        ((0.9, 0.1), (0.8, 0.2)),
        ((0.0, 1.5), (0.7, 0.8)),
        ((1.7, 0.3), (1.0, 1.0)),
        ((-0.1, 1.2), (0.3, 0.8)),
        ((0.0, 0.0), (0.0, 0.0)),
    ],
)
def test_what_stands_over_the_ridge_runs_over_it(poured, lies):
    """A full leg spills into the other; when both are full they are one pool."""
    found = pockets(prism(INVERTED), down())
    port, starboard = basin_of(found.tree, [(0.1, -0.08, 0.05), (0.1, 0.08, 0.05)])
    volume = np.zeros((1, 2))
    volume[0, [port, starboard]] = 1e-3 * np.array(poured)
    settled = found.settled(volume, np.zeros(1, int))
    assert settled[0, [port, starboard]] == pytest.approx(1e-3 * np.array(lies), abs=1e-15)
    pool = found.pools(settled, np.zeros(1, int))[0]
    assert (pool[0] == pool[1]) == (sum(lies) >= 1.6)


def test_spilling_keeps_the_mass():
    """Whatever is poured where, nothing is lost, no pocket holds too much, and it stays so."""
    rng = np.random.default_rng(21)
    lines = [np.arange(n) * 0.05 for n in (5, 4, 5)]
    for _ in range(6):
        mesh = of_blocks(lines, random_blocks(rng))
        ways = rng.normal(size=(30, 3))
        found = pockets(mesh, ways / np.linalg.norm(ways, axis=1, keepdims=True))
        index = np.repeat(np.arange(30), 20)
        volume = rng.random((600, found.tree.most)) * (
            np.arange(found.tree.most) < found.tree.count[index, None]
        )
        volume *= (rng.random(600) * mesh.volume / volume.sum(axis=1))[:, None]
        settled = found.settled(volume, index)
        np.testing.assert_allclose(settled.sum(axis=1), volume.sum(axis=1), rtol=1e-12)
        np.testing.assert_allclose(found.settled(settled, index), settled, atol=1e-15)
        pool = found.pools(settled, index)
        rows = np.arange(600)[:, None]
        total = np.einsum("snk,sk->sn", found.tree.inside[index], settled)[rows, pool]
        there = np.arange(found.tree.most) < found.tree.count[index, None]
        most = found.holds[index[:, None], pool]
        assert (total <= most * (1.0 + 1e-9))[there].all()


@pytest.mark.outside("hand: leg and half the ridge", quantity="fuel a pickup leaves")
def test_what_a_pickup_leaves():
    """A pickup in one leg leaves what lies below it there, and all that the other leg holds."""
    found = pockets(prism(INVERTED), down())
    port = basin_of(found.tree, [(0.1, -0.08, 0.05)])
    zero = np.zeros(1, int)
    for level, left in ((0.01, 0.08e-3 + 0.8e-3), (0.12, 1.6e-3 + 0.02 * 0.2 * 0.2)):
        kept = found.drawn_down(np.array([level]), port, zero)
        assert kept.sum() == pytest.approx(left, abs=1e-12)
        np.testing.assert_allclose(found.settled(kept, zero), kept, atol=1e-15)


@pytest.mark.outside("hand: a leg emptied by turning it up", quantity="fuel after a turn")
def test_turning_brings_fuel_over():
    """Turned slowly on its side and back, a leg gives its fuel to the other; a little, it does not.

    Rolled by 90 degrees the upper leg has run out over its inner wall.
    """
    rolls = np.concatenate([np.arange(0.0, 30.0, 2.0), np.arange(30.0, 92.0, 2.0)])
    found = pockets(prism(INVERTED), np.array([down(roll) for roll in rolls]))
    port = [int(basin_of(found.tree, [(0.1, -0.08, 0.01)], row)[0]) for row in range(len(rolls))]
    start = np.zeros((1, found.tree.most))
    start[0, port[0]] = 0.3e-3
    volume = start
    for row in range(len(rolls) - 1):
        volume = turned(found, volume, row, row + 1)
        held = volume[0, port[row + 1]]
        depth = min(TALL / np.tan(np.radians(rolls[row + 1])), LEG)
        most = LONG * (TALL * depth - 0.5 * np.tan(np.radians(rolls[row + 1])) * depth**2)
        if rolls[row + 1] < 70.0:
            assert held == pytest.approx(min(0.3e-3, most), rel=1e-9)
        assert volume.sum() == pytest.approx(0.3e-3, rel=1e-12)
    for row in range(len(rolls) - 1, 0, -1):
        volume = turned(found, volume, row, row - 1)
    assert volume[0, port[0]] == pytest.approx(0.0, abs=1e-12)
    assert volume.sum() == pytest.approx(0.3e-3, rel=1e-12)


@pytest.mark.outside("second method: every small step of the turn", quantity="fuel after a turn")
@pytest.mark.parametrize("seed", range(6))
def test_a_turn_is_followed_only_where_anything_happens(seed):
    """A turn that skips what nothing happens on ends as one that is followed step by step."""
    rng = np.random.default_rng(seed)
    lines = [np.arange(n) * 0.05 for n in (5, 4, 5)]
    mesh = of_blocks(lines, random_blocks(rng)) if seed else prism(INVERTED)
    axis, steps = rng.normal(size=3), np.radians(np.arange(0.0, 150.0, 3.0))
    side = np.cross(axis, [0.0, 0.0, 1.0]) / np.linalg.norm(np.cross(axis, [0.0, 0.0, 1.0]))
    ways = np.sin(steps)[:, None] * side + np.cos(steps)[:, None] * [0.0, 0.0, -1.0]
    found = pockets(mesh, ways)
    volume = rng.random((40, found.tree.most)) * (np.arange(found.tree.most) < found.tree.count[0])
    volume *= (rng.random(40) * mesh.volume / volume.sum(axis=1))[:, None]
    start = found.settled(volume, np.zeros(40, int))
    stepped = start
    for row in range(len(ways) - 1):
        before, after = np.full(40, row), np.full(40, row + 1)
        stepped = found.turned(stepped, before, after, found.drowning(before, after))
    skipped = turn_along(found).made(start)
    np.testing.assert_allclose(skipped, stepped, atol=1e-12 * mesh.volume)


def test_unused_corners_change_nothing():
    """A corner that no face uses is not looked at."""
    mesh = prism(INVERTED)
    more = Mesh(np.concatenate([[[9.0, 9.0, -9.0]], mesh.vertices]), mesh.faces + 1)
    one, other = pockets(mesh, down(10.0)), pockets(more, down(10.0))
    np.testing.assert_allclose(one.holds, other.holds)
