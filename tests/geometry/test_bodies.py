"""Distances of bodies, held to arithmetic anybody can do again."""

from math import cos, hypot, pi, radians, sin, sqrt

import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.attitude import rotation
from plumbing.geometry.bodies import cylinder, gap, solid, tube
from plumbing.geometry.convex import nearest
from plumbing.geometry.mesh import mesh_of, transformed
from plumbing.geometry.moves import AXES, least_move

HAND = "hand limit: right triangles"
EYE = np.eye(3)


def ball(radius, at=(0, 0, 0)):
    """A ball."""
    return tube(at, radius)


def rod(start, end, radius):
    """A rod with round ends."""
    return tube([start, end], radius)


def box(size, at=(0, 0, 0), turned=(0, 0, 0), wall=0.0):
    """A box, turned by roll, pitch and yaw [deg]."""
    turn = rotation(*(radians(angle) for angle in turned))
    return solid(transformed(solids.box(size), turn, at), wall)


def can(length, radius, at=(0, 0, 0), along=(1, 0, 0), wall=0.0):
    """A cylinder."""
    axis = np.array(along, float)
    return cylinder(at, axis / np.linalg.norm(axis), length, radius, wall)


UNIT = box((2, 2, 2))
CAN = can(2, 1)
ROD = rod((-1, 0, 0), (1, 0, 0), 0.5)
BALL = ball(1)
X, Y, Z = EYE
R2, R3 = sqrt(2), sqrt(3)

PAIRS = [
    # ball and ball: between the centres less both radii
    (BALL, ball(1, (3, 0, 0)), 1.0),
    (BALL, ball(0.5, (3, 4, 0)), 3.5),
    (BALL, ball(0.25, (1, 2, 2)), 1.75),
    (BALL, ball(2, (2, 3, 6)), 4.0),
    (BALL, ball(1e-3, (1.002, 0, 0)), 1e-3),
    (BALL, ball(1, (2, 0, 0)), 0.0),
    (BALL, ball(1, (1.5, 0, 0)), 0.0),
    (BALL, ball(0.1, (0.2, 0.3, 0)), 0.0),
    # ball and box: to a face, an edge, a corner
    (UNIT, ball(0.5, (3, 0, 0)), 1.5),
    (UNIT, ball(0.5, (3, 0.7, -0.9)), 1.5),
    (UNIT, ball(1, (4, 5, 0)), 4.0),
    (UNIT, ball(1, (4, 5, 0.5)), 4.0),
    (UNIT, ball(1, (2, 3, 3)), 2.0),
    (UNIT, ball(0.5, (-3, -3, -2)), 2.5),
    (UNIT, ball(0.2, (0.5, 0.5, 0.5)), 0.0),
    (UNIT, ball(1, (2, 0, 0)), 0.0),
    (box((2, 2, 2), turned=(45, 0, 0)), ball(0.5, (0, 0, 3)), 2.5 - R2),
    (box((2, 2, 2), turned=(0, 45, 0)), ball(0.5, (0, 0, 3)), 2.5 - R2),
    (box((2, 2, 2), turned=(0, 0, 45)), ball(0.5, (3, 0, 0)), 2.5 - R2),
    (box((2, 2, 2), turned=(0, 0, 30)), ball(0, (4 * cos(pi / 6), -4 * sin(pi / 6), 0)), 3.0),
    # ball and rod: beside and past its end
    (ROD, ball(0.5, (0, 3, 0)), 2.0),
    (ROD, ball(0.5, (0.9, 0, -3)), 2.0),
    (ROD, ball(0.5, (4, 4, 0)), 4.0),
    (ROD, ball(0.25, (3, 0, 0)), 1.25),
    (ROD, ball(0.1, (1.3, 0, 0)), 0.0),
    # ball and cylinder: to the side, the end, the rim
    (CAN, ball(0.5, (0, 3, 0)), 1.5),
    (CAN, ball(0.5, (0.5, 3, 4)), 3.5),
    (CAN, ball(0.5, (3, 0, 0)), 1.5),
    (CAN, ball(0.5, (3, 0.6, 0.6)), 1.5),
    (CAN, ball(0.5, (4, 5, 0)), 4.5),
    (CAN, ball(0.5, (4, 3, 4)), 4.5),
    (CAN, ball(0.1, (0.5, 0.5, 0)), 0.0),
    (can(2, 1, along=(0, 1, 0)), ball(0.5, (3, 0, 4)), 3.5),
    (can(2, 1, along=(1, 1, 0)), ball(0, (3 / R2, 3 / R2, 0)), 2.0),
    (can(2, 1, along=(1, 1, 0)), ball(0, (3 / R2, -3 / R2, 0)), 2.0),
    # disc: a cylinder of no length
    (can(0, 1), ball(0.5, (3, 0, 0)), 2.5),
    (can(0, 1), ball(0.5, (3, 5, 0)), 4.5),
    (can(0, 1), ball(0.5, (0, 3, 4)), 3.5),
    # rod and rod: side by side, crossing, end to end, past each other
    (ROD, rod((-1, 3, 0), (1, 3, 0), 0.5), 2.0),
    (ROD, rod((0, -1, 3), (0, 1, 3), 0.25), 2.25),
    (ROD, rod((3, 0, 0), (5, 0, 0), 0.5), 1.0),
    (ROD, rod((4, 4, 0), (9, 4, 0), 0.5), 4.0),
    (ROD, rod((0, 2, -5), (0, 2, 5), 1.5), 0.0),
    (ROD, rod((0.3, -5, 0.2), (0.3, 5, 0.2), 0.1), 0.0),
    (ROD, rod((0, -4, 3), (0, 4, 3), 0), 2.5),
    # rod and box
    (UNIT, rod((2, -5, 0), (2, 5, 0), 0.25), 0.75),
    (UNIT, rod((4, 5, 1), (4, 5, 9), 1), 4.0),
    (UNIT, rod((3, 3, -9), (3, 3, 9), 0.5), 2 * R2 - 0.5),
    (UNIT, rod((0, 3, 0), (3, 0, 0), 0), 0.5 * R2),
    (UNIT, rod((0, 4, 0), (4, 0, 0), 0.5), R2 - 0.5),
    (UNIT, rod((3, 3, 2), (9, 9, 9), 1), 2.0),
    (UNIT, rod((-5, 0, 0), (5, 0.1, 0), 0.01), 0.0),
    (UNIT, rod((0, 0, 0), (0.1, 0, 0), 0.01), 0.0),
    # rod and cylinder
    (CAN, rod((-5, 3, 0), (5, 3, 0), 0.5), 1.5),
    (CAN, rod((4, 5, 0), (9, 5, 0), 0.5), 4.5),
    (CAN, rod((0, 3, -9), (0, 3, 9), 0.5), 1.5),
    (CAN, rod((3, -9, 0), (3, 9, 0), 0.5), 1.5),
    (CAN, rod((0, 0, -5), (0, 0, 5), 0.1), 0.0),
    (can(2, 1, along=(0, 0, 1)), rod((3, -9, 0), (3, 9, 0), 0.5), 1.5),
    # box and box
    (UNIT, box((2, 2, 2), (3, 0, 0)), 1.0),
    (UNIT, box((2, 2, 2), (5, 6, 0)), 5.0),
    (UNIT, box((2, 2, 2), (3, 4, 4)), 3.0),
    (UNIT, box((2, 2, 2), (4, 0, 0), (0, 0, 45)), 3 - R2),
    (UNIT, box((2, 2, 2), (4, 0, 0), (0, 45, 0)), 3 - R2),
    (box((2, 2, 2), turned=(45, 0, 0)), box((2, 2, 2), (0, 0, 4), (0, 45, 0)), 4 - 2 * R2),
    (UNIT, box((2, 2, 2), (1.5, 0, 0)), 0.0),
    (UNIT, box((0.5, 0.5, 0.5)), 0.0),
    (box((2, 2, 2), wall=0.25), box((2, 2, 2), (3, 0, 0), wall=0.25), 0.5),
    (box((2, 2, 2), wall=0.5), box((2, 2, 2), (5, 6, 0)), 4.5),
    # box and cylinder
    (UNIT, can(2, 1, (4, 0, 0)), 2.0),
    (UNIT, can(2, 1, (4, 0, 0), (0, 0, 1)), 2.0),
    (UNIT, can(2, 1, (4, 5, 0), (0, 0, 1)), 4.0),
    (UNIT, can(2, 1, (0, 4, 4), (1, 0, 0)), 3 * R2 - 1),
    (UNIT, can(2, 0.5, (4, 0, 0), (1, 0, 0)), 2.0),
    (UNIT, can(2, 1, (1, 0, 0)), 0.0),
    # cylinder and cylinder: side by side, crossed, end to end, rim to side
    (CAN, can(2, 1, (0, 3, 0)), 1.0),
    (CAN, can(2, 0.5, (0, 3, 4)), 3.5),
    (CAN, can(2, 0.5, (0, 3, 0), (0, 0, 1)), 1.5),
    (CAN, can(2, 1, (4, 0, 0)), 2.0),
    (CAN, can(2, 1, (4, 0, 0), (0, 0, 1)), 2.0),
    (CAN, can(2, 1, (5, 6, 0)), 5.0),
    (CAN, can(2, 1, (0, 4, 0), (0, 1, 0)), 2.0),
    (CAN, can(2, 0.5, (0, 4, 0), (0, 1, 1)), hypot(2 * R2 - 1, 2 * R2 - 0.5) - 1),
    (can(2, 1, along=(0, 0, 1)), can(2, 1, (3, 4, 0), (0, 0, 1)), 3.0),
    (CAN, can(2, 1, (0, 1.5, 0)), 0.0),
    (can(2, 1, wall=0.25), can(2, 1, (0, 3, 0), wall=0.5), 0.25),
]


@pytest.mark.outside(HAND, quantity="distance of balls, boxes, rods, cylinders and discs")
@pytest.mark.parametrize("scale", [1.0, 0.05])
def test_distance_by_hand(scale):
    """Each pair, as drawn and at the size of parts, is right to a micrometre, both ways round."""
    for number, (one, other, expected) in enumerate(PAIRS):
        small, second = (_scaled(body, scale) for body in (one, other))
        for found in (gap(small, second), gap(second, small)):
            assert found is not None
            assert found.size == pytest.approx(scale * expected, abs=1e-6), number


def _scaled(body, scale):
    return type(body)(scale * body.points, scale * body.ball, scale * body.disc, body.normal)


def test_pairs_are_as_many_as_promised():
    """Sixty pairs and more, four fifths of them apart."""
    assert len(PAIRS) >= 60
    assert sum(expected > 0 for *_, expected in PAIRS) > 0.75 * len(PAIRS)


@pytest.mark.outside("hand limit: a plane between two bodies", quantity="proof of a distance")
def test_random_cylinders_are_proved():
    """Square to the way between the nearest points a plane parts the two: none could be nearer."""
    rng = np.random.default_rng(3)
    apart = 0
    for _ in range(300):
        one, other = (
            can(rng.uniform(0.02, 0.3), rng.uniform(0.01, 0.1), rng.normal(size=3) * 0.15, axis)
            for axis in rng.normal(size=(2, 3))
        )
        size, at, end = nearest(one.piece(0), other.piece(0))
        assert np.linalg.norm(at - end) == pytest.approx(size, abs=1e-9)
        for body, point in ((one, at), (other, end)):
            off = point - body.points[0].mean(axis=0)
            along = off @ body.normal
            half = 0.5 * np.linalg.norm(np.diff(body.points[0], axis=0))
            assert abs(along) <= half + 1e-9
            assert np.linalg.norm(off - along * body.normal) <= body.disc + 1e-9
        if size > 0.0:
            apart += 1
            way = (end - at) / size
            least = other.piece(0).farthest(-way) @ way
            most = one.piece(0).farthest(way) @ way
            assert least - most == pytest.approx(size, abs=2e-9)
    assert apart > 100


SADDLE = [(-3, 0), (3, 0), (3, 4), (1, 4), (1, 1), (-1, 1), (-1, 4), (-3, 4)]


@pytest.mark.outside(HAND, quantity="distance to a solid with a notch")
@pytest.mark.parametrize(
    ("body", "expected", "overlaps"),
    [
        (ball(0.25, (0, 0, 3)), 0.75, False),  # in the notch, from its sides
        (ball(0.25, (0, 0, 1.5)), 0.25, False),  # over its floor
        (ball(0.25, (0, 4, 6)), hypot(1, 2) - 0.25, False),  # beside a leg and over it
        (rod((0, -9, 2), (0, 9, 2), 0.1), 0.0, True),  # through both legs
        (ball(0.1, (0, 2, 2.5)), 0.0, True),  # within a leg, far from the skin
        (box((8, 20, 20)), 0.0, True),  # all round it
        (box((1, 1, 1), (0, 0, 5)), 0.5 * R2, False),
    ],
)
def test_saddle(body, expected, overlaps):
    """What stands in the notch of a saddle is beside it, what stands in a leg is in it."""
    found = gap(body, solid(solids.prism([-2, 2], [SADDLE, SADDLE])))
    assert found is not None
    assert found.size == pytest.approx(expected, abs=1e-6)
    assert found.overlap == overlaps


def test_nearest_place_and_way():
    """The place lies midway between the surfaces, the way leads from the second to the first."""
    found = gap(ball(1, (4, 0, 0)), UNIT)
    assert found is not None
    assert found.at == pytest.approx((2, 0, 0))
    assert found.away == pytest.approx((1, 0, 0))


def test_wider_than_of_interest():
    """A gap that is wider than asked about is no gap; one just within is found."""
    one, other = BALL, ball(1, (3, 0, 0))
    assert gap(one, other, within=0.99) is None
    assert gap(one, other, within=1.01) is not None


@pytest.mark.parametrize(
    ("one", "other", "wanted", "far", "way"),
    [
        (UNIT, box((2, 4, 4), (1.5, 0, 0)), 0.25, 0.75, (-1, 0, 0)),
        (ball(0.5, (0, 0, 1)), UNIT, 0.5, 1.0, (0, 0, 1)),
        (rod((-9, 0.9, 0), (9, 0.9, 0), 0.5), box((2, 2, 8)), 0.1, 0.7, (0, 1, 0)),
        (can(8, 1, (0, 0, -1.5), (0, 1, 0)), can(8, 1), 0.1, 0.6, (0, 0, -1)),
        (box((1, 1, 1), (0, 1.3, 0)), BALL, 0.2, 0.4, (0, 1, 0)),
    ],
)
def test_least_move(one, other, wanted, far, way):
    """The shortest way out is that of plane geometry, and leaves just the gap wanted."""
    found, axis = least_move(one, other, wanted)
    assert found == pytest.approx(far, abs=1e-6)
    assert AXES[axis] == pytest.approx(way)


@pytest.mark.outside("property: moved as told, the two are clear", quantity="move that clears")
def test_random_moves_clear():
    """After the move the gap is what was wanted, and a thousandth less is not enough."""
    rng = np.random.default_rng(8)
    saddle = solid(solids.prism([-2, 2], [SADDLE, SADDLE]))
    for _ in range(60):
        one = rng.choice([UNIT, CAN, ROD, BALL, saddle])
        shift = rng.normal(size=3)
        other = type(one)(one.points + shift, one.ball, one.disc, one.normal)
        other = other if len(one.points) == 1 else box((1, 1, 1), shift)
        far, way = least_move(other, one, 0.1)
        clear = gap(_moved(other, far * AXES[way]), one)
        assert clear is not None
        assert clear.size == pytest.approx(0.1, abs=1e-5) or far == 0.0
        short = gap(_moved(other, (far - 1e-3) * AXES[way]), one)
        assert far == 0.0 or (short is not None and short.size < 0.1)


def _moved(body, shift):
    return type(body)(body.points + shift, body.ball, body.disc, body.normal, body.skin)


def test_long_chain_is_bounded_by_its_near_pieces():
    """Of a tube of ten thousand points only what is near is looked at."""
    angle = np.linspace(0, 200 * pi, 10_000)
    spiral = np.stack([np.linspace(0, 50, 10_000), 3 * np.cos(angle), 3 * np.sin(angle)], axis=1)
    found = gap(tube(spiral, 0.1), rod((-1, 0, 0), (60, 0, 0), 0.5), within=3.0)
    assert found is not None
    chords = 3 * cos(100 * pi / 9999)  # their middles lie a little nearer
    assert found.size == pytest.approx(chords - 0.6, abs=1e-5)


def test_mesh_of_many_triangles_is_a_skin():
    """A finely meshed ball is still solid: what is within it overlaps."""
    mesh = solids.ellipsoid((2, 2, 2))
    dented = mesh.vertices.copy()
    dented[int(np.argmax(dented[:, 2]))] *= 0.5
    skin = solid(mesh_of(dented, mesh.faces))
    assert skin.skin is not None
    inner = gap(ball(0.1), skin)
    assert inner is not None
    assert inner.overlap


def test_pieces_are_bounded_some_at_a_time(monkeypatch):
    """However few pairs are bounded at a time, the gap is the same."""
    saddle = solids.prism([-2, 2], [SADDLE, SADDLE])
    rng = np.random.default_rng(4)
    for turn in rng.uniform(-180, 180, size=(12, 3)):
        matrix = rotation(*np.radians(turn))
        other = transformed(saddle, matrix, rng.uniform(-8, 8, size=3))
        whole = gap(solid(saddle), solid(other))
        with monkeypatch.context() as small:
            small.setattr("plumbing.geometry.bodies.BATCH", 40)
            parts = gap(solid(saddle), solid(other))
        assert whole is not None
        assert parts is not None
        assert parts.size == pytest.approx(whole.size, abs=1e-9)
