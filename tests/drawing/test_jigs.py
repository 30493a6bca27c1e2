"""Guide blocks lead the drill where the tube goes: read back from their meshes."""

from dataclasses import replace
from math import atan, degrees, hypot, pi, radians, sqrt, tan
from pathlib import Path

import numpy as np
import pytest
import trimesh
from click.testing import CliRunner

from plumbing import layout as layouts
from plumbing.cli import main
from plumbing.drawing.jigs import FACETS, block, jigs
from plumbing.errors import UsageError
from plumbing.geometry.mesh import Mesh
from plumbing.model.layout import Layout
from plumbing.model.structure import Former, Passage

HAND = "right triangles and prisms by hand"
BORE = 0.3e-3  # wider than the drill


def rims(mesh: Mesh) -> tuple[np.ndarray, np.ndarray]:
    """Corners of the bore in the seat and in the top: the last of each half."""
    half = len(mesh.vertices) // 2
    return mesh.vertices[half - FACETS : half], mesh.vertices[-FACETS:]


@pytest.mark.outside(HAND, quantity="volume of a guide block")
def test_straight_block_by_hand() -> None:
    """For a drill of 10 mm: 22.3 mm square, 20 high, less bore, notches and a corner."""
    mesh = block(0.010, 0.003, (0.0, 0.0))
    made = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert made.is_watertight
    assert made.is_winding_consistent
    wide = rims(mesh)[0][:, 0].max() * 2 + 0.012  # 10.3 mm, to the facets, and two walls of 6
    assert wide == pytest.approx(0.0223, abs=2e-5)
    face = wide**2 - pi * 0.00515**2 - 4 * 0.0015**2 - 0.004**2 / 2
    assert mesh.volume == pytest.approx(0.020 * face, rel=1e-6)
    assert mesh.bounds[:, 2] == pytest.approx([0.0, 0.020])


@pytest.mark.outside(HAND, quantity="axis of a guided hole")
@pytest.mark.parametrize("slope", [(0.0, 0.0), (0.75, 0.0), (-0.3, 0.4), (0.0, -1.0)])
def test_axis_passes_the_centre(slope: tuple[float, float]) -> None:
    """Through the middles of both rims a straight goes to the centre, half a former below."""
    seat, top = rims(block(0.006, 0.004, slope))
    low, high = seat.mean(axis=0), top.mean(axis=0)
    way = (high - low) / (high - low)[2]
    assert way[:2] == pytest.approx(slope, abs=1e-9)
    assert low - 0.002 * way == pytest.approx([0.0, 0.0, -0.002], abs=1e-9)
    # square to its axis the bore is round: 6.3 mm, to the facets
    unit = way / np.linalg.norm(way)
    off = seat - low
    away = np.linalg.norm(off - np.outer(off @ unit, unit), axis=1)
    assert away == pytest.approx(0.5 * (0.006 + BORE), rel=2e-3)


def test_slant_costs_the_same_bore() -> None:
    """A slanted bore is longer, and takes its section times its length."""
    square, slanted = (block(0.006, 0.003, (s, 0.0)) for s in (0.0, 0.75))
    for mesh, long in ((square, 1.0), (slanted, sqrt(1 + 0.75**2))):
        seat, _ = rims(mesh)
        corners = seat[:, :2]
        turned = np.roll(corners, -1, axis=0)
        area = 0.5 * abs(np.sum(corners[:, 0] * turned[:, 1] - corners[:, 1] * turned[:, 0]))
        assert area == pytest.approx(pi * 0.00315**2 * long, rel=1e-9)


def plain(*points: tuple[float, float, float]) -> Layout:
    """The plainest starter with its feed led through these points."""
    layout = layouts.read(layouts.starter("single-main"))
    line = replace(layout.lines["feed"], route=points, bend_radius=1e-3)
    return replace(layout, lines={**layout.lines, "feed": line})


def with_former(layout: Layout, former: Former) -> Layout:
    """A layout whose feed goes through the one passage of a former."""
    line = replace(layout.lines["feed"], through=(f"{former.name}.hole",))
    return replace(layout, formers={former.name: former}, lines={**layout.lines, "feed": line})


def slope_of(mesh: Mesh) -> np.ndarray:
    """Run of the bore to the right and up for its way out [-]."""
    seat, top = rims(mesh)
    run = top.mean(axis=0) - seat.mean(axis=0)
    slope: np.ndarray = run[:2] / run[2]
    return slope


@pytest.mark.outside(HAND, quantity="slope of a tube through a former")
def test_slope_is_that_of_the_tube() -> None:
    """Aft 100, starboard 50, up 20: out of a former 0.5 to the right and 0.2 up.

    A rib is seen from the port side: out is to port, so the same tube goes 2 forward, 0.4 down.
    """
    layout = plain((0.40, 0.0, 0.10), (0.50, 0.05, 0.12))
    hole = Passage(name="hole", at=(0.025, 0.11), diameter=0.006)
    former = Former(
        name="F", station=0.45, thickness=0.003, material="plywood", passages={"hole": hole}
    )
    made = jigs(with_former(layout, former))
    assert slope_of(made.blocks["F", "hole"]) == pytest.approx([0.5, 0.2], abs=1e-6)
    rib = replace(
        former, across="y", station=0.025, passages={"hole": replace(hole, at=(0.45, 0.11))}
    )
    with pytest.raises(UsageError, match="slants 64 deg"):  # atan(sqrt(2² + 0.4²)) = 63.9 deg
        jigs(with_former(layout, rib))
    steep = plain((0.45, -0.05, 0.10), (0.48, 0.05, 0.12))  # 100 to starboard, 30 aft, 20 up
    made = jigs(with_former(steep, replace(rib, station=0.0)))
    assert slope_of(made.blocks["F", "hole"]) == pytest.approx([-0.3, -0.2], abs=1e-6)


def test_what_has_no_block_says_why() -> None:
    """A hole that is sawn and one that slants over 45 deg have a reason; others a block."""
    layout = plain((0.40, 0.0, 0.10), (0.50, 0.05, 0.10))
    hole = Passage(name="hole", at=(0.025, 0.10), diameter=0.006)
    big = Passage(name="big", at=(0.0, 0.0), diameter=0.021)
    former = Former(
        name="F", station=0.45, thickness=0.003, material="plywood",
        passages={"hole": hole, "big": big},
    )  # fmt: skip
    made = jigs(with_former(layout, former))
    assert list(made.blocks) == [("F", "hole")]
    assert made.left == ("F.big has no guide block: a hole over 20 mm is sawn, not drilled.",)
    slanted = plain((0.44, 0.0, 0.10), (0.46, 0.025, 0.10))  # atan(25 / 20) = 51.3 deg
    assert degrees(atan(25 / 20)) == pytest.approx(51.34, abs=0.01)
    with pytest.raises(UsageError, match="slants 51 deg off square"):
        jigs(
            with_former(
                slanted, replace(former, passages={"hole": replace(hole, at=(0.0125, 0.1))})
            )
        )


@pytest.mark.parametrize("thickness", [0.001, 0.04])
@pytest.mark.parametrize("diameter", [0.002, 0.012, 0.020])
def test_wall_is_left_everywhere(diameter: float, thickness: float) -> None:
    """At any slant the bore keeps 4 mm from the outline, which never crosses itself."""
    for turn in np.linspace(0.0, 2.0 * pi, 13):
        run = tan(radians(45.0)) * np.array([np.cos(turn), np.sin(turn)])
        mesh = block(diameter, thickness, (float(run[0]), float(run[1])))
        made = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
        assert made.is_watertight
        assert mesh.volume > 0.0
        side = mesh.vertices[:17, :2]
        assert (side.min(axis=0) <= -0.003).all()  # the notches of the centre are on every side
        assert (side.max(axis=0) >= 0.003).all()
        seat, top = rims(mesh)
        for rim in (seat, top):
            near = min(hypot(*(a - b)) for a in side for b in rim[:, :2])
            assert near >= 0.004


def test_command_writes_a_file_each(tmp_path: Path) -> None:
    """STL read back in millimetres: as many triangles as the block, on its seat."""
    layout = Path(__file__).parents[2] / "layouts" / "twin.yaml"
    out = tmp_path / "jig.stl"
    done = CliRunner().invoke(main, ["template", str(layout), "-o", str(out)])
    assert done.exit_code == 0, done.output
    made = sorted(tmp_path.glob("*.stl"))
    assert len(made) == 6
    for path in made:
        mesh = trimesh.load(path)
        assert mesh.is_watertight
        assert mesh.bounds[0, 2] == 0.0
        assert 12.0 <= mesh.bounds[1, 2] <= 30.0
