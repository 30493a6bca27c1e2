"""Room that a moving body sweeps, against the body itself in many places on its way."""

import numpy as np
import pytest

from plumbing.geometry import solids
from plumbing.geometry.bodies import Body, cylinder, gap, solid, tube
from plumbing.geometry.mesh import transformed
from plumbing.geometry.swept import STILL, meshes, swept, swing

ABOUT, AXIS, ANGLE = np.array([0.1, 0.0, -0.05]), np.array([0.0, 1.0, 0.0]), 1.4
BODIES = {
    "box": solid(solids.box((0.02, 0.03, 0.16))),
    "rod": tube([(0.0, 0.0, 0.0), (0.05, 0.02, 0.1)], 0.004),
    "can": cylinder((0.0, 0.0, 0.05), (0.0, 0.0, 1.0), 0.1, 0.02, 0.001),
}


def turned(body: Body, angle: float) -> Body:
    """The body turned by an angle about the axis, by sines and cosines alone."""
    c, s = np.cos(angle), np.sin(angle)
    turn = np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])
    points = (body.points - ABOUT) @ turn.T + ABOUT
    return Body(points, body.ball, body.disc, turn @ body.normal)


@pytest.mark.outside("the body in 400 places on its way", quantity="distance to a swept body")
@pytest.mark.parametrize("name", BODIES)
def test_a_swept_body_is_as_far_as_the_nearest_of_its_places(name):
    """Never farther than the body on its way, and nearer by 0.5 % of its length at most."""
    body, rng = BODIES[name], np.random.default_rng(1)
    room = swept(body, swing(ABOUT, AXIS, ANGLE))
    for point in rng.uniform(-0.3, 0.3, (12, 3)):
        spot = tube(point, 0.0)
        places = (gap(turned(body, angle), spot).size for angle in np.linspace(0.0, ANGLE, 400))
        nearest, found = min(places), gap(room, spot).size
        low, high = body.box
        slack = 0.02 * 0.02 if name == "can" else 0.0  # its rim is drawn round as 24 corners
        assert nearest - 0.005 * np.linalg.norm(high - low) - slack <= found
        assert found <= nearest + 1e-6


@pytest.mark.outside("hand: a box drawn along is a longer box", quantity="swept room")
def test_a_slide_makes_a_longer_box():
    """A box of 20 mm that slides 100 mm aft is 120 mm long, to its very ends."""
    room = swept(solid(solids.box((0.02, 0.02, 0.02))), STILL.then(np.array([0.1, 0.0, 0.0])))
    low, high = room.box
    assert low == pytest.approx([-0.01, -0.01, -0.01])
    assert high == pytest.approx([0.11, 0.01, 0.01])
    assert gap(room, tube((0.05, 0.03, 0.0), 0.0)).size == pytest.approx(0.02)


def test_what_is_not_convex_is_filled_out():
    """A trough that slides sweeps the room between its walls too."""
    outline = [(0, 0), (0.1, 0), (0.1, 0.1), (0.09, 0.1), (0.09, 0.01), (0.01, 0.01), (0.01, 0.1)]
    trough = solids.prism((0.0, 0.1), [[*outline, (0, 0.1)]] * 2)
    room = swept(solid(trough), STILL.then(np.array([0.0, 0.0, 0.2])))
    assert gap(room, tube((0.05, 0.05, 0.25), 0.0)).overlap


def test_a_swept_mesh_is_seen_in_all_its_places():
    """The ends of what is drawn are the mesh where it starts and where it ends."""
    mesh = solids.box((0.02, 0.03, 0.16))
    shown = meshes(mesh, swing(ABOUT, AXIS, ANGLE))
    count = len(mesh.vertices)
    c, s = np.cos(ANGLE), np.sin(ANGLE)
    turn = np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])
    last = transformed(mesh, turn, ABOUT - turn @ ABOUT)
    assert shown.vertices[:count] == pytest.approx(mesh.vertices)
    assert shown.vertices[-count:] == pytest.approx(last.vertices)
    assert shown.volume == pytest.approx(len(shown.vertices) / count * mesh.volume)
