"""What always holds between level, volume and centre."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbing.geometry import solids
from plumbing.geometry.attitude import rotation
from plumbing.geometry.cut import cut
from plumbing.geometry.mesh import transformed

SHAPES = [
    solids.box((0.3, 0.1, 0.2)),
    solids.cylinder(0.3, 0.1, "z"),
    solids.capsule(0.2, 0.08, "y"),
    solids.prism(
        (0.0, 0.2, 0.3),
        np.array([[(0, 0), (1, 0), (1, 1), (0.5, 0.2), (0, 1)]] * 3)
        * np.array([0.1, 0.12, 0.05])[:, None, None],
    ),
]
angle = st.floats(-3.2, 3.2)
tilts = st.tuples(angle, angle, angle)
shapes = st.sampled_from(SHAPES)
shares = st.floats(0.0, 1.0)
few = settings(max_examples=60, deadline=None)


def down_for(angles):
    """Straight down seen from an aircraft turned by angles."""
    return rotation(*angles).T @ np.array([0.0, 0.0, -1.0])


@few
@given(shapes, tilts)
def test_volume_rises_with_the_level(mesh, angles):
    """A higher level never holds less, and the ends are empty and full."""
    table = cut(mesh, down_for(angles))
    level = np.linspace(table.bottom[0] - 0.01, table.top[0] + 0.01, 400)
    volume = table.volume_at([level])[0]
    assert volume[0] == 0.0
    assert volume[-1] == mesh.volume
    assert np.diff(volume).min() >= -1e-12 * mesh.volume


@few
@given(shapes, tilts, shares)
def test_level_and_volume_are_inverse(mesh, angles, share):
    """The level found for a volume holds that volume."""
    table = cut(mesh, down_for(angles))
    level = table.level_for([share * mesh.volume])
    assert table.volume_at(level)[0] == pytest.approx(share * mesh.volume, abs=1e-11 * mesh.volume)
    assert table.bottom[0] <= level[0] <= table.top[0]


@few
@given(shapes, tilts, shares)
def test_below_and_above_make_the_whole(mesh, angles, share):
    """What lies below a plane and what lies below it upside down add up, centres too."""
    down = down_for(angles)
    table = cut(mesh, np.stack([down, -down]))
    level = table.bottom[0] + share * (table.top[0] - table.bottom[0])
    below, above = table.volume_at([level, -level])
    assert below + above == pytest.approx(mesh.volume, rel=1e-11)
    low, high = table.centroid_at([level, -level])
    whole = (low * below + high * above) / mesh.volume
    assert whole == pytest.approx(mesh.centroid, abs=1e-8)


@few
@given(shapes, tilts, tilts, shares)
def test_turning_solid_and_gravity_together_changes_nothing(mesh, angles, turned, share):
    """The same picture seen from other axes has the same level, volume and surface."""
    matrix, down = rotation(*turned), down_for(angles)
    here, there = cut(mesh, down), cut(transformed(mesh, matrix), matrix @ down)
    volume = [(0.001 + 0.998 * share) * mesh.volume]  # at a very tip a level has few digits
    assert here.level_for(volume) == pytest.approx(there.level_for(volume), abs=1e-8)
    level = here.bottom + share * (here.top - here.bottom)
    assert here.volume_at(level) == pytest.approx(there.volume_at(level), abs=1e-11 * mesh.volume)


@few
@given(shapes, tilts, shares)
def test_the_mirror_image_holds_the_same(mesh, angles, share):
    """Swapping port and starboard of solid and gravity mirrors the centre."""
    mirror, down = np.diag([1.0, -1.0, 1.0]), down_for(angles)
    here, there = cut(mesh, down), cut(transformed(mesh, mirror), mirror @ down)
    level = here.bottom + share * (here.top - here.bottom)
    assert here.volume_at(level) == pytest.approx(there.volume_at(level), abs=1e-11 * mesh.volume)
    volume = here.volume_at(level)[0]
    lean = np.abs(here.centroid_at(level) - there.centroid_at(level) * [1.0, -1.0, 1.0]).max()
    assert lean * volume <= 1e-9 * mesh.volume


def test_scenarios_pick_their_direction():
    """With an index each entry is answered for its own direction."""
    mesh = SHAPES[1]
    down = np.array([[0.0, 0.0, -1.0], [1.0, 0.0, 0.0], [0.0, 0.6, -0.8]])
    table = cut(mesh, down)
    index = np.array([2, 0, 1, 1, 0, 2, 2])
    volume = np.linspace(0.1, 0.9, 7) * mesh.volume
    alone = [cut(mesh, down[k]).level_for([v])[0] for k, v in zip(index, volume, strict=True)]
    level = table.level_for(volume, index)
    assert level == pytest.approx(alone)
    assert table.volume_at(level, index) == pytest.approx(volume)
    assert table.centroid_at(level, index).shape == (7, 3)


def test_empty_and_full():
    """Nothing lies at the lowest corner; everything at the centre of the solid."""
    mesh = SHAPES[0]
    table = cut(mesh, (0.6, 0.0, -0.8))
    assert table.level_for(0.0) == pytest.approx(table.bottom)
    assert table.level_for(mesh.volume) == pytest.approx(table.top)
    assert table.level_for(-1.0) == pytest.approx(table.bottom)
    assert table.level_for(1.0) == pytest.approx(table.top)
    assert table.centroid_at(table.bottom)[0, [0, 2]] == pytest.approx([0.15, -0.1])
    assert table.centroid_at(table.top)[0] == pytest.approx(mesh.centroid, abs=1e-9)


def test_asking_for_centres_that_were_not_made_says_so():
    """A cut made without moments refuses to give a centre."""
    with pytest.raises(ValueError, match="without moments"):
        cut(SHAPES[0], (0.0, 0.0, -1.0), moments=False).centroid_at(0.0)


def test_a_finely_meshed_bottom_stays_exact():
    """Thousands of corners at nearly one height cost neither time nor digits."""
    side = np.linspace(-0.1, 0.1, 41)
    top = [(y, 0.05) for y in side[::-1]]
    outline = [(y, -0.05) for y in side] + top
    mesh = solids.prism(np.linspace(-0.2, 0.2, 31), [outline] * 31)
    down = np.array([[1e-5, 2e-5, -1.0], [0.0, 0.0, -1.0], [1e-8, 0.0, -1.0]])
    table = cut(mesh, down / np.linalg.norm(down, axis=1, keepdims=True))
    level = np.array([-0.01, -0.02, 0.03])
    assert table.volume_at(level) == pytest.approx(0.08 * (level + 0.05), abs=1e-9 * mesh.volume)
