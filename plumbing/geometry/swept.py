"""Room that a moving body sweeps."""

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.bodies import Body
from plumbing.geometry.mesh import Mesh
from plumbing.physics.arrays import Array

STEP = np.radians(1.0)  # of a turn; a hull is too wide by a quarter of that, times the length
_SEEN = 3  # one place in so many is drawn
_RING = 24  # corners of a round end


@frozen(eq=False)
class Motion:
    """Places that a body goes through one after the other: ``turns @ x + shifts``.

    Attributes
    ----------
    turns : Array
        Rotation matrices [-], shape (S, 3, 3).
    shifts : Array
        [m], shape (S, 3).
    """

    turns: Array
    shifts: Array

    def then(self, slide: Array) -> "Motion":
        """The same, and at its end a slide [m], shape (3,)."""
        last = self.shifts[-1] + slide
        return Motion(
            np.concatenate([self.turns, self.turns[-1:]]), np.concatenate([self.shifts, last[None]])
        )

    @property
    def ends(self) -> "Motion":
        """Its first and last place alone."""
        return Motion(self.turns[[0, -1]], self.shifts[[0, -1]])

    @property
    def seen(self) -> "Motion":
        """As many of its places as are drawn, both ends among them."""
        last = len(self.shifts) - 1
        some = np.unique(np.linspace(0, last, 1 + -(-last // _SEEN)).round().astype(np.intp))
        return Motion(self.turns[some], self.shifts[some])

    def places(self, points: Array) -> Array:
        """Points (..., 3) [m] in each place, shape (S, ..., 3)."""
        turned = np.einsum("sij,...j->s...i", self.turns, points)
        shifts = self.shifts.reshape(len(self.shifts), *[1] * (points.ndim - 1), 3)
        return np.asarray(turned + shifts)


def swing(about: Array, axis: Array, angle: float) -> Motion:
    """A turn by an angle [rad], right-handed about an axis (3,) [-] through a point (3,) [m]."""
    angles = np.linspace(0.0, angle, 1 + max(1, int(np.ceil(abs(angle) / STEP))))
    x, y, z = axis
    across = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    sines, rest = np.sin(angles)[:, None, None], 1.0 - np.cos(angles)[:, None, None]
    turns = np.eye(3) + sines * across + rest * (across @ across)
    return Motion(turns, about - turns @ about)


STILL = Motion(np.eye(3)[None], np.zeros((1, 3)))


def swept(body: Body, motion: Motion) -> Body:
    """All the room a body takes up on its way; one that is not convex is filled out first.

    What it takes up is never less than the truth, and more by at most 0.5 % of its length: between
    two steps it is the hull of both places, drawn out by what an arc bulges over its chord.
    """
    corners = _corners(body)
    places = motion.places(corners)
    bulge = _bulge(motion, places)
    chain = np.concatenate([places[:-1], places[1:]], axis=2)
    return Body(chain.reshape(-1, chain.shape[2], 3), body.ball + bulge)


def _bulge(motion: Motion, places: Array) -> float:
    """How far an arc leaves its chord at most [m]."""
    chords = np.linalg.norm(places[1:] - places[:-1], axis=-1)
    turned = np.einsum("sij,skj->sik", motion.turns[1:], motion.turns[:-1])
    trace = np.clip(0.5 * (np.einsum("sii->s", turned) - 1.0), -1.0, 1.0)
    quarter = 0.25 * np.arccos(trace)  # a chord of an angle rises by half of it times the tangent
    return float((0.5 * chords * np.tan(quarter)[:, None, None]).max(initial=0.0))


def _corners(body: Body) -> Array:
    """Corners of convex pieces without discs [m], shape (P, N, 3)."""
    if body.skin is not None:
        return body.skin.vertices[None]
    if not body.disc:
        return body.points
    side = np.cross(body.normal, np.eye(3)[np.abs(body.normal).argmin()])
    side /= np.linalg.norm(side)
    angles = 2.0 * np.pi * np.arange(_RING) / _RING
    ring = np.cos(angles)[:, None] * side + np.sin(angles)[:, None] * np.cross(body.normal, side)
    ring *= body.disc / np.cos(np.pi / _RING)
    pieces, ends, _ = body.points.shape
    return np.asarray((body.points[:, :, None] + ring).reshape(pieces, ends * _RING, 3))


def meshes(mesh: Mesh, motion: Motion) -> Mesh:
    """A mesh in each place of a motion, as one that may cross itself, to be seen."""
    places, count = motion.places(mesh.vertices), len(mesh.vertices)
    faces = mesh.faces + count * np.arange(len(places))[:, None, None]
    return Mesh(places.reshape(-1, 3), faces.reshape(-1, 3))
