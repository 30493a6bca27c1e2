"""Geometry that cannot be."""

import numpy as np
import pytest
from layout_samples import SMALL, changed, faults_in, only_fault, right

from plumbing.layout import geometry

BOX = "box: {at: [200 mm, 0 mm, 0 mm], size: [200 mm, 100 mm, 80 mm]}"
SECTION = "{{station: {0} mm, outline: [[-50 mm, -40 mm], [50 mm, -40 mm], {1}]}}"
CORNERS = "[50 mm, 40 mm], [-50 mm, 40 mm]"


def prism(*sections):
    """The small layout's tank as a prism through sections."""
    return BOX, "prism: {at: [200 mm, 0 mm, 0 mm], sections: [" + ", ".join(sections) + "]}"


GOOD = prism(SECTION.format(-100, CORNERS), SECTION.format(100, CORNERS))

IMPOSSIBLE = [
    (
        "at: [120 mm, 0 mm, 40 mm]",
        "at: [80 mm, 0 mm, 40 mm]",
        "port `vent` 20 mm outside tank `main`",
    ),
    ("at: [120 mm, 0 mm, 40 mm]", "at: [120 mm, 0 mm, 44 mm]", "port `vent` 4 mm outside tank"),
    (
        "at: [120 mm, 0 mm, 40 mm]",
        "at: [120 mm, 0 mm, 40 mm], opens-at: [120 mm, 0 mm, 60 mm]",
        "the inner end of `vent` 20 mm outside tank `main`",
    ),
    (
        "kind: clunk, reach: 120 mm",
        "kind: fixed, rest: [0 mm, 0 mm, 0 mm]",
        "the pickup of `feed` 100 mm",
    ),
    ("reach: 120 mm", "reach: 420 mm", "a reach of 420 mm at `main.feed`"),
    (
        "80 mm]}}",
        "80 mm]}}\n    baffles: [{at: 310 mm}]",
        "a baffle at x = 310 mm outside tank `main`",
    ),
    (
        "80 mm]}}",
        "80 mm]}}\n    baffles: [{at: 210 mm, holes: [{at: [0 mm, 90 mm], diameter: 4 mm}]}]",
        "a hole of the baffle at x = 210 mm outside tank `main`",
    ),
    (
        "80 mm]}}",
        "80 mm]}}\n    baffles: [{at: 210 mm, holes: [{at: [0 mm, 0 mm], diameter: 4 mm}]}, "
        "{at: 210.5 mm, holes: [{at: [0 mm, 0 mm], diameter: 4 mm}]}]",
        "2 baffles with holes in tank `main`, two of them at x = 210.5 mm",
    ),
    (
        "[200 mm, 100 mm, 80 mm]",
        "[20 m, 100 mm, 80 mm]",
        "the solid of tank `main`: it is 20 m long",
    ),
    (
        "[200 mm, 100 mm, 80 mm]",
        "[200 mm, 100 mm, 80 um]",
        "the solid of tank `main`: it is only 0.08",
    ),
    ("[200 mm, 100 mm, 80 mm]", "[200 mm, 0 mm, 80 mm]", "`0 mm`, out of bounds"),
    ("at: [0 mm, 20 mm]", "at: [0 mm, 90 mm]", "passage `p1` outside former `F2`"),
    (
        "[80 mm, 80 mm], [-80 mm, 80 mm]",
        "[-80 mm, 80 mm], [80 mm, 80 mm]",
        "the outline of `F2` crosses",
    ),
    (
        "[80 mm, 80 mm], [-80 mm, 80 mm]",
        "[-80 mm, -80 mm]",
        "the outline of `F2` with a corner twice",
    ),
    (
        ", [80 mm, -80 mm], [80 mm, 80 mm], [-80 mm, 80 mm]",
        "",
        "the outline of `F2` with 1 corners",
    ),
    (
        "joint: barb",
        "joint: barb, route: [[600 mm, 0 mm, 0 mm]]",
        "a point twice in the route of `feed`",
    ),
    (
        "pump: {at: [600 mm, 0 mm, 0 mm]",
        "pump: {at: [200 mm, 0 mm, 40 mm]",
        "line `feed` between two",
    ),
    (*prism(SECTION.format(0, CORNERS)), "1 section in the prism of tank `main`"),
    (
        *prism(SECTION.format(-100, CORNERS), SECTION.format(100, "[50 mm, 40 mm]")),
        "section 2 of tank `main` with 3 corners",
    ),
    (
        *prism(SECTION.format(100, CORNERS), SECTION.format(-100, CORNERS)),
        "section 2 of tank `main` not behind the one before it",
    ),
    (
        *prism(SECTION.format(-100, CORNERS), SECTION.format(-100, CORNERS)),
        "section 2 of tank `main` not behind the one before it",
    ),
    (
        *prism(
            SECTION.format(-100, CORNERS),
            SECTION.format(100, "[-50 mm, 40 mm], [50 mm, 40 mm]"),
        ),
        "section 2 of tank `main` crosses itself",
    ),
]


@pytest.mark.parametrize(("old", "new", "found"), IMPOSSIBLE)
def test_impossible(old, new, found):
    """What cannot be built is a fault, at its place."""
    faults = faults_in(changed((old, new)))
    assert [fault for fault in faults if fault.found.startswith(found)], list(map(str, faults))
    assert all(fault.place.line > 1 for fault in faults)


def test_a_ruler_is_not_exact():
    """A port 2 mm off the wall is as good as on it."""
    right(("at: [120 mm, 0 mm, 40 mm]", "at: [120 mm, 0 mm, 42 mm]"))


def test_bounds_are_shown():
    """A port outside its tank is told where the tank is."""
    fault = only_fault(("at: [120 mm, 0 mm, 40 mm]", "at: [80 mm, 0 mm, 40 mm]"))
    assert "x from 100 mm to 300 mm, y from -50 mm to 50 mm" in fault.expected


def test_a_prism_is_read():
    """A prism of two like sections holds what the box holds."""
    from plumbing.model.meshes import tank_mesh

    layout = right(GOOD)
    assert tank_mesh(layout.tanks["main"]).volume == pytest.approx(200e-3 * 100e-3 * 80e-3)


def test_a_turned_tank():
    """Ports are looked for where the tank is after it was turned."""
    turned = (BOX, BOX[:-1] + ", yaw: 90 deg}")
    faults = faults_in(changed(turned))
    assert [fault.found for fault in faults] == ["port `vent` 30 mm outside tank `main`"]


CUBE = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)], float)
QUADS = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
TRIANGLES = [t for a, b, c, d in QUADS for t in ((a, b, c), (a, c, d))]
MESH = (BOX, "mesh: {at: [200 mm, 0 mm, 0 mm], file: tank.stl}")


def ascii_stl(triangles, half=(100.0, 50.0, 40.0), flip=False):
    """A box as an STL file in text, as written by hand; its normals are left to the reader."""
    rows = ["solid tank"]
    for triangle in triangles:
        corners = CUBE[list(triangle)] * half
        rows.append("facet normal 0 0 0\nouter loop")
        rows += [f"vertex {x} {y} {z}" for x, y, z in (corners[::-1] if flip else corners)]
        rows.append("endloop\nendfacet")
    return ("\n".join([*rows, "endsolid tank"]) + "\n").encode()


def binary_stl(triangles, half=(100.0, 50.0, 40.0)):
    """The same as a binary file, by the layout of the format: 80 bytes, a count, 50 bytes each."""
    rows = np.zeros(len(triangles), dtype=[("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")])
    rows["v"] = [CUBE[list(triangle)] * half for triangle in triangles]
    return b"\0" * 80 + np.uint32(len(triangles)).tobytes() + rows.tobytes()


def loaded(folder, content, change=MESH):
    """Faults of the small layout with a mesh of this content beside it."""
    if content is not None:
        (folder / "tank.stl").write_bytes(content)
    return faults_in(changed(change), str(folder / "a.yaml"))


@pytest.mark.parametrize(
    "content", [ascii_stl(TRIANGLES), binary_stl(TRIANGLES), ascii_stl(TRIANGLES, flip=True)]
)
def test_a_mesh_is_read(tmp_path, content):
    """A closed mesh, binary or text, facing in or out, holds its volume."""
    from plumbing.layout import read
    from plumbing.model.meshes import tank_mesh

    (tmp_path / "tank.stl").write_bytes(content)
    layout = read(changed(MESH), str(tmp_path / "a.yaml"))
    assert tank_mesh(layout.tanks["main"]).volume == pytest.approx(1.6e-3, rel=1e-6)


def test_a_mesh_in_other_units(tmp_path):
    """The unit of a mesh's numbers is the file's to say."""
    content = ascii_stl(TRIANGLES, half=(0.1, 0.05, 0.04))
    assert not loaded(tmp_path, content, (BOX, MESH[1][:-1] + ", unit: m}"))
    assert "is its unit right?" in loaded(tmp_path, content)[0].found


BAD_MESHES = [
    (ascii_stl(TRIANGLES[:-1]), "it is not closed"),
    (ascii_stl(TRIANGLES[:2]), "it has 2 triangles"),
    (b"", "cannot be read"),
    (b"not a mesh at all" * 100, "cannot be read"),
    (b"solid x\nfacet normal 0 0 0\nouter loop\nvertex 1 2\n", "cannot be read"),
    (binary_stl(TRIANGLES)[:-7], "cannot be read"),
    (b"\0" * 80 + b"\xff\xff\xff\xff", "cannot be read"),
    (ascii_stl(TRIANGLES).replace(b"vertex 100", b"vertex nan"), "cannot be read"),
    (ascii_stl(TRIANGLES).replace(b"vertex 100", b"vertex 1e300"), ""),
]


@pytest.mark.parametrize(("content", "reason"), BAD_MESHES)
def test_a_mesh_that_is_none(tmp_path, content, reason):
    """A mesh that cannot stand for a tank is a fault with its reason, at the file's name."""
    faults = loaded(tmp_path, content)
    assert faults
    assert reason in faults[0].found
    assert faults[0].found.startswith("`tank.stl`")


@pytest.mark.parametrize(
    "name",
    ["../tank.stl", "/etc/passwd", "/srv/tank.stl", "a/../../tank.stl", "C:\\tank.stl", "tank.obj",
     "..\\tank.stl", "missing.stl", "\\\\host\\tank.stl", "link.stl", "a" * 300 + ".stl"],
)  # fmt: skip
def test_a_mesh_from_elsewhere(tmp_path, name):
    """Only files in the layout's folder or below are opened."""
    folder = tmp_path / "inside"
    folder.mkdir()
    (tmp_path / "tank.stl").write_bytes(ascii_stl(TRIANGLES))
    (folder / "link.stl").symlink_to(tmp_path / "tank.stl")
    faults = loaded(folder, None, (BOX, f"mesh: {{at: [200 mm, 0 mm, 0 mm], file: '{name}'}}"))
    assert len(faults) == 1
    assert faults[0].expected == "a `.stl` file in the layout's folder or below, such as `tank.stl`"


def test_a_mesh_below(tmp_path):
    """A mesh may be in a folder below."""
    (tmp_path / "meshes").mkdir()
    (tmp_path / "meshes" / "tank.stl").write_bytes(ascii_stl(TRIANGLES))
    assert not loaded(tmp_path, None, (BOX, MESH[1].replace("tank.stl", "meshes/tank.stl")))


def test_a_huge_mesh_is_not_read(tmp_path):
    """A mesh file beyond the bound is refused by its size."""
    with open(tmp_path / "tank.stl", "wb") as stream:
        stream.truncate(30_000_000)
    assert "of more than 20 MB" in loaded(tmp_path, None)[0].found


def test_too_many_tanks():
    """A file with hundreds of tanks is refused before they are meshed."""
    start = SMALL.index("  main:")
    tank = SMALL[start : SMALL.index("pumps:")]
    more = "".join(tank.replace("main", f"t{number}") for number in range(40))
    (fault,) = faults_in(SMALL[:start] + more + SMALL[start:])
    assert (fault.found, fault.expected) == ("41 tanks", "at most 40 tanks")


def test_too_many_passages(monkeypatch):
    """A file with hundreds of passages is refused before they are drawn."""
    count = sum(len(former.passages) for former in right().formers.values())
    monkeypatch.setattr(geometry, "MOST_PASSAGES", count - 1)
    (fault,) = faults_in(SMALL)
    assert (fault.found, fault.expected) == (
        f"{count} passages",
        f"at most {count - 1} passages",
    )


def test_near_surface():
    """Distances to a box are those of its sides, edges and corners."""
    from plumbing.geometry.near import surface_distance
    from plumbing.geometry.solids import box

    mesh = box((2.0, 2.0, 2.0))
    points = [(0, 0, 0), (0, 0, 3), (0, 2, 2), (2, 2, 2), (1, 1, 1), (0.3, 0.2, 0.9)]
    expected = [1.0, 2.0, np.sqrt(2.0), np.sqrt(3.0), 0.0, 0.1]
    assert surface_distance(mesh, points) == pytest.approx(expected)


def with_zones(zones):
    """The small layout with zones."""
    return "title: Small", f"title: Small\nzones: {{{zones}}}"


MOULD = "mould: {kind: keep-out, body: {mesh: {at: [0 m, 1 m, 0 m], file: tank.stl}}}"


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (ascii_stl(TRIANGLES[:-1]), "it is not closed"),
        (b"not a mesh at all" * 100, "cannot be read"),
        (None, "no file"),
    ],
)
def test_a_zone_s_mesh_that_is_none(tmp_path, content, reason):
    """The mesh of a zone is held to what that of a tank is, at its own place."""
    (fault,) = loaded(tmp_path, content, with_zones(MOULD))
    assert reason in fault.found or content is None
    assert fault.place.line == 3


def test_a_zone_s_mesh_faces_out_or_in(tmp_path):
    """A mesh that faces in is turned, for a zone as for a tank."""
    assert not loaded(tmp_path, ascii_stl(TRIANGLES, flip=True), with_zones(MOULD))


def test_a_zone_may_be_thin_and_no_section_may_cross_itself():
    """A sheet of 1 mm is a zone, though no tank; a prism must be a solid."""
    sheet = "a: {kind: keep-out, body: {box: {at: [0 m, 1 m, 0 m], size: [1 m, 1 m, 1 mm]}}}"
    assert not faults_in(changed(with_zones(sheet)))
    bow = "[[0 mm, 0 mm], [9 mm, 9 mm], [9 mm, 0 mm], [0 mm, 9 mm]]"
    sections = ", ".join(f"{{station: {x} mm, outline: {bow}}}" for x in (0, 50))
    body = f"prism: {{at: [0 m, 1 m, 0 m], sections: [{sections}]}}"
    found = faults_in(changed(with_zones(f"b: {{kind: keep-out, body: {{{body}}}}}")))
    assert any("crosses" in one.found for one in found)


@pytest.mark.parametrize(("count", "right"), [(geometry.MOST_ZONES, True), (900, False)])
def test_thousands_of_zones(count, right):
    """So many zones are refused at once, with the most that are looked at."""
    body = "{box: {at: [0 m, 1 m, 0 m], size: [9 mm, 9 mm, 9 mm]}}"
    zones = ",\n  ".join(f"z{k}: {{kind: keep-out, body: {body}}}" for k in range(count))
    found = faults_in(changed(with_zones(zones)))
    assert (not found) == right
    assert right or found[0].expected == f"at most {geometry.MOST_ZONES} zones"
