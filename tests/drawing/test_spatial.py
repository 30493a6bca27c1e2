"""Models in space say where things are: read back by another program."""

import io
import json
from dataclasses import replace
from math import dist, pi
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from click.testing import CliRunner

from plumbing import api
from plumbing import layout as layouts
from plumbing.cli import main
from plumbing.drawing.glb import glb
from plumbing.drawing.spatial import MOST, Shown, former_mesh, solids
from plumbing.errors import UsageError
from plumbing.geometry import solids as shapes
from plumbing.model.layout import port_position, split_port
from plumbing.model.structure import Former, Passage
from plumbing.network import survey

LAYOUTS = Path(__file__).parents[2] / "layouts"
DEMOS = sorted(LAYOUTS.glob("*.yaml"))
NASTY = 'a"b</script>\\ \u202e\x07é'


def scene_of(content: bytes) -> trimesh.Scene:
    """A .glb as another program reads it."""
    return trimesh.load(io.BytesIO(content), file_type="glb")


def nodes_of(content: bytes) -> list[dict[str, Any]]:
    """Nodes of a .glb, from the file's own words."""
    size = int.from_bytes(content[12:16], "little")
    nodes: list[dict[str, Any]] = json.loads(content[20 : 20 + size])["nodes"]
    return nodes


def named(content: bytes, group: str) -> list[str]:
    """Names of the nodes of a group."""
    nodes = nodes_of(content)
    return [nodes[k]["name"] for node in nodes if node["name"] == group for k in node["children"]]


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_part_is_a_named_solid(path: Path) -> None:
    """Tanks, lines, drawn formers and zones of the layout are nodes, each closed."""
    layout = api.load(path)
    content = api.solids(layout, "glb")
    assert named(content, "tanks") == list(layout.tanks)
    assert named(content, "lines") == list(layout.lines)
    assert named(content, "formers") == [one.name for one in layout.formers.values() if one.outline]
    assert named(content, "zones") == list(layout.zones)
    scene = scene_of(content)
    assert len(scene.geometry) == sum(
        len(named(content, g)) for g in ("tanks", "parts", "lines", "formers", "zones")
    )
    assert all(mesh.is_watertight for mesh in scene.geometry.values())
    assert len(content) < 1_000_000
    assert content == api.solids(api.load(path), "glb")


@pytest.mark.outside("coordinates of a box by hand", quantity="place of a solid in a model")
def test_axes_of_the_format() -> None:
    """The format has y up: what lies at x, y, z stands at x, z, -y; lengths are metres."""
    box = shapes.box((0.2, 0.1, 0.3))
    moved = type(box)(box.vertices + np.array([1.0, 2.0, 3.0]), box.faces)
    scene = scene_of(glb([Shown("tanks", "t", "tank", 7, "#808080", 1.0, moved)], "made"))
    assert scene.bounds == pytest.approx(np.array([[0.9, 2.85, -2.05], [1.1, 3.15, -1.95]]))
    paint = next(iter(scene.geometry.values())).visual.material.baseColorFactor
    # 0x80 is 0.216 of the light of white (IEC 61966-2-1), 55 of 255
    assert paint[:3] == pytest.approx([55, 55, 55], abs=1)


@pytest.mark.outside("volumes of a box and a cylinder by hand", quantity="volume of a solid")
def test_volumes_of_a_tank_and_a_tube() -> None:
    """A tank of 240 x 90 x 70 with walls of 1.5 mm; a straight tube of 6 mm from port to port."""
    layout = layouts.read(layouts.starter("single-main"))
    made = {shown.name: shown for shown in solids(layout, survey(layout))}
    assert made["main"].mesh.volume == pytest.approx(0.243 * 0.093 * 0.073, rel=1e-9)
    line = layout.lines["header to tee"]
    ends = [port_position(layout.part(p), q) for p, q in map(split_port, (line.from_, line.to))]
    volume = pi * 0.003**2 * dist(*ends)
    assert made["header to tee"].mesh.volume == pytest.approx(volume, rel=1e-9)
    assert made["header to tee"].words == "line, suction side"


def test_stl_is_the_plumbing_alone_in_millimetres() -> None:
    """Tanks, parts and tubes are in it, formers and zones are not."""
    layout = layouts.read(layouts.starter("single-main"))
    mesh = trimesh.load(io.BytesIO(api.solids(layout, "stl")), file_type="stl")
    shown = solids(layout, survey(layout))
    wanted = [one.mesh.bounds for one in shown if one.group in {"tanks", "parts", "lines"}]
    assert mesh.bounds[0] == pytest.approx(1e3 * np.min(wanted, axis=(0, 1)), abs=1e-3)
    assert mesh.bounds[1] == pytest.approx(1e3 * np.max(wanted, axis=(0, 1)), abs=1e-3)
    count = sum(len(one.mesh.faces) for one in shown if one.group in {"tanks", "parts", "lines"})
    assert len(mesh.faces) == count
    assert api.solids(layout, "stl") == api.solids(layout, "stl")


@pytest.mark.outside("area of a rectangle less circles, by hand", quantity="volume of a former")
def test_former_has_its_holes() -> None:
    """A plate of 100 x 60 x 3 less a hole of 10; one over the edge and one in another stay out."""
    at = {"good": (0.0, 0.0), "edge": (0.048, 0.0), "other": (0.004, 0.0), "far": (0.0, 0.2)}
    holes = {name: Passage(name=name, at=here, diameter=0.01) for name, here in at.items()}
    corners = ((-0.05, -0.03), (0.05, -0.03), (0.05, 0.03), (-0.05, 0.03))
    former = Former(
        name="F", station=0.4, thickness=0.003, material="balsa", outline=corners, passages=holes
    )
    wanted = 0.003 * (0.1 * 0.06 - pi * 0.005**2)
    for across, low in (("x", [0.3985, -0.05, -0.03]), ("y", [-0.05, 0.3985, -0.03])):
        mesh = former_mesh(replace(former, across=across))
        assert mesh.volume == pytest.approx(wanted, rel=1e-9)
        assert mesh.bounds[0] == pytest.approx(low)


def test_names_are_only_words() -> None:
    """A name from the file is text in the model: it reads back without what a screen obeys."""
    layout = layouts.read(layouts.starter("single-main"))
    tank = replace(layout.tanks["main"], name=NASTY)
    content = api.solids(replace(layout, tanks={NASTY: tank}, lines={}, title=NASTY), "glb")
    assert named(content, "tanks") == ['a"b</script>\\ é']
    assert nodes_of(content)[0]["name"] == 'a"b</script>\\ é'


def test_too_many_corners_are_refused() -> None:
    """A route of more corners than a model is made of is refused in words, at once."""
    layout = layouts.read(layouts.starter("single-main"))
    route = tuple((0.001 * k, 0.01 * (k % 2), 0.1) for k in range(MOST + 10))
    line = replace(layout.lines["feed"], route=route, bend_radius=0.0)
    with pytest.raises(UsageError, match="more than 20000"):
        api.solids(replace(layout, lines={**layout.lines, "feed": line}), "stl")


@pytest.mark.parametrize("ending", ["stl", "glb"])
def test_command_writes_and_may_write_again(tmp_path: Path, ending: str) -> None:
    """The file bears the program's mark, so that it may be replaced."""
    out = tmp_path / f"mine.{ending}"
    for _ in range(2):
        done = CliRunner().invoke(main, ["draw", str(LAYOUTS / "twin.yaml"), "-o", str(out)])
        assert done.exit_code == 0, done.output
    assert out.read_bytes() == api.solids(LAYOUTS / "twin.yaml", ending)
    out.write_bytes(b"solid somebody else's")
    done = CliRunner().invoke(main, ["draw", str(LAYOUTS / "twin.yaml"), "-o", str(out)])
    assert done.exit_code == 2
