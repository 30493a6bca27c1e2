"""Elevations are to scale, complete, and their labels keep clear of each other."""

import math
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import drawn_samples as samples
import numpy as np
import pytest

from plumbing.drawing.arranging import place_elevation
from plumbing.drawing.boxes import Box
from plumbing.drawing.elevations import elevation
from plumbing.drawing.frame import SHEETS
from plumbing.drawing.inspected import openings, reaches, surfaces
from plumbing.drawing.scene import scene, tank_solid, zone_solid
from plumbing.drawing.views import AXES
from plumbing.errors import UsageError
from plumbing.findings import Finding, Severity
from plumbing.layout import load
from plumbing.model.layout import Layout
from plumbing.model.structure import Swing, Zone
from plumbing.model.tank import Box as Box3
from plumbing.model.tank import Pickup
from plumbing.network import survey

SVG = "{http://www.w3.org/2000/svg}"
DEMOS = sorted((Path(__file__).parents[2] / "layouts").glob("*.yaml"))
VIEWS = ("plan", "side", "front")


def _demo(path: Path) -> Layout:
    return load(str(path))


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_labels_keep_clear_of_each_other(path: Path, view: str) -> None:
    """Labels that found a place overlap no other label, number or marker, and stay inside."""
    placed = place_elevation(_demo(path), view)
    labels = [(one.name, one.callout.box) for one in placed.labels if one.callout.free]
    numbers = [(name, Box(x - 2, y - 1.9, x + 2, y + 1.9)) for name, (x, y) in placed.numbers]
    assert len(labels) >= 0.9 * len(placed.labels)
    assert [
        (a, b) for (a, one), (b, two) in combinations(labels + numbers, 2) if one.meets(two, 0.05)
    ] == []
    assert all(placed.room.holds(box) for _, box in labels)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_tank_and_line_is_drawn(path: Path, view: str) -> None:
    """Each tank, part and line is a group that a page can find by name."""
    layout = _demo(path)
    root = ET.fromstring(elevation(layout, survey(layout), view))
    names = {g.get("data-part") for g in root.iter(f"{SVG}g")}
    assert {part.name for part in layout.parts()} | set(layout.lines) <= names


@pytest.mark.parametrize("view", VIEWS)
def test_distances_are_true_to_the_scale(view: str) -> None:
    """Two points 100 mm apart along an axis of the view are 100 mm / scale apart on paper."""
    placed = place_elevation(samples.single().layout(), view)
    right, up = AXES[view]
    start = placed.view.point((0.1, 0.2, 0.3))
    along = placed.view.point(tuple(np.array([0.1, 0.2, 0.3]) + 0.1 * right))
    above = placed.view.point(tuple(np.array([0.1, 0.2, 0.3]) + 0.1 * up))
    assert along[0] - start[0] == pytest.approx(100 / placed.view.scale)
    assert start[1] - above[1] == pytest.approx(100 / placed.view.scale)


def _area(loops: list[np.ndarray]) -> float:
    total = 0.0
    for loop in loops:
        x, y = loop[:, 0], loop[:, 1]
        total += 0.5 * abs(float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)))
    return total


@pytest.mark.outside("hand: a box of a x b x c has the shadows a b, a c and b c", quantity="area")
def test_outline_of_a_box_tank_has_its_sides_area() -> None:
    """The outline of a 200 x 80 x 100 mm box encloses 160, 200 and 80 square centimetres."""
    layout = samples.single().layout()
    sides = {"plan": 0.2 * 0.08, "side": 0.2 * 0.1, "front": 0.08 * 0.1}
    for view, area in sides.items():
        solid = tank_solid(layout.tanks["main"], AXES[view])
        assert _area(solid.loops) == pytest.approx(area)


def test_the_level_at_reserve_is_a_line_across_its_tank() -> None:
    """A surface of 200 x 80 mm is a line of 200 mm from the side; a plan shows none."""
    layout = samples.single().layout()
    corners = np.array([(0.0, 0.0, 0.03), (0.2, 0.0, 0.03), (0.2, 0.08, 0.03), (0.0, 0.08, 0.03)])
    outlines = {"main": (corners,)}
    ((tank, ends),) = surfaces(AXES["side"], outlines)
    assert tank == "main"
    assert ends == pytest.approx(np.array([[0.0, 0.03], [0.2, 0.03]]))
    ((_, ends),) = surfaces(AXES["front"], outlines)
    assert ends == pytest.approx(np.array([[0.0, 0.03], [0.08, 0.03]]))
    assert not list(surfaces(AXES["plan"], outlines))
    assert 'class="reserve"' in elevation(layout, survey(layout), "side", surfaces=outlines)


@pytest.mark.outside("hand: a ball on a hose in a box", quantity="where a clunk lies")
def test_the_reach_of_a_clunk_is_drawn() -> None:
    """A clunk of 10 mm on a hose in the lid hangs as far down as its hose lets it, off the wall."""
    layout = samples.single().layout()
    main = layout.tanks["main"]
    box, (name, port) = main.shape, next(iter(main.ports.items()))
    lid = (box.at[0], box.at[1], box.at[2] + 0.5 * box.size[2])
    for far, hangs in ((0.06, 0.06), (0.5, box.size[2] - 0.005)):
        pickup = Pickup(kind="clunk", reach=far, diameter=0.01)
        ports = {**main.ports, name: replace(port, at=lid, pickup=pickup, opens_at=None)}
        drawn = replace(layout, tanks={**layout.tanks, "main": replace(main, ports=ports)})
        (reach,) = [one for one in reaches(drawn, AXES["side"]) if one.port == f"main.{name}"]
        assert reach.at == pytest.approx([lid[0], lid[2]])
        assert reach.rest[1] == pytest.approx(lid[2] - hangs)
        assert _area(reach.room) == pytest.approx(0.19 * 0.09)
        assert f'id="reach-main_2e_{name}"' in elevation(drawn, survey(drawn), "side")


def test_a_vent_is_drawn_to_where_it_opens() -> None:
    """The tube of a vent ends in its tank where the file says; a bare vent opens at the wall."""
    layout = load(str(DEMOS[0].with_name("single-main.yaml")))
    found = {name: way for name, role, way in openings(layout, survey(layout), AXES["side"])}
    assert found["main.vent"] == pytest.approx(np.array([[0.2, 0.06], [0.196, 0.059]]))
    roles = {name: role for name, role, _ in openings(layout, survey(layout), AXES["side"])}
    assert roles["main.vent"] == "vent"
    assert "main.feed" not in found


@pytest.mark.parametrize(("view", "area"), [("plan", 0.06 * 0.03), ("front", 0.03 * 0.04)])
def test_a_stated_body_is_drawn(view: str, area: float) -> None:
    """A pump whose body is stated has an outline of its size, one without a dashed one."""
    layout = samples.single().layout()
    pump = layout.pumps["pump"]
    body = Box3(at=pump.at, size=(0.06, 0.03, 0.04))
    drawn = replace(layout, pumps={"pump": replace(pump, body=body)})
    (solid,) = [one for one in scene(drawn, AXES[view]).solids if one.kind == "body"]
    assert solid.name == "pump"
    assert _area(solid.loops) == pytest.approx(area)
    assert all(one.kind != "body" for one in scene(layout, AXES[view]).solids)
    assert 'id="body-pump"' in elevation(drawn, survey(drawn), view)
    text = elevation(layout, survey(layout), view)
    assert 'id="assumed-pump"' in text
    assert "body of assumed size: pump" in text
    assert ">size assumed<" in text


@pytest.mark.outside("hand: the quarter of a ring that a leg sweeps", quantity="area")
def test_what_moves_is_drawn_with_its_way() -> None:
    """A leg 100 to 200 mm from its pivot sweeps a quarter ring; both its ends are outlined."""
    body = Box3(at=(0.15, 0.0, 0.0), size=(0.1, 0.01, 0.004))
    turn = Swing(about=(0.0, 0.0, 0.0), axis="y", by=-0.5 * math.pi)
    zone = Zone(name="leg", kind="moving", body=body, swings=turn)
    solid = zone_solid(zone, AXES["side"])
    points = np.concatenate(solid.loops)
    reach = np.hypot(*points.T)
    assert reach.max() == pytest.approx(math.hypot(0.2, 0.002))
    assert reach.min() == pytest.approx(math.hypot(0.1, 0.002))
    assert points.max(axis=0) == pytest.approx([0.2, 0.2], abs=1e-4)
    assert _area(solid.ends) == pytest.approx(2 * 0.1 * 0.004)
    assert zone_solid(replace(zone, swings=None), AXES["side"]).ends == []


def test_the_airframe_is_drawn() -> None:
    """The outline of the airframe is in every view, round all else, by its name."""
    layout = samples.single().layout()
    hull = Box3(at=(0.4, 0.0, 0.0), size=(2.0, 0.5, 0.5))
    drawn = replace(layout, aircraft=replace(layout.aircraft, airframe=hull))
    for view in VIEWS:
        text = elevation(drawn, survey(drawn), view)
        assert 'id="airframe-airframe"' in text
        assert 'id="airframe-airframe"' not in elevation(layout, survey(layout), view)


def test_drawing_fits_its_paper() -> None:
    """Everything drawn lies inside the rulers of the sheet."""
    for path in DEMOS:
        placed = place_elevation(_demo(path), "side")
        w, h = SHEETS[placed.size]
        assert 0 < placed.room.left < placed.room.right < w
        for solid in placed.scene.solids:
            for loop in solid.loops:
                for x, y in placed.view.sheet(loop):
                    assert placed.room.holds(Box(x, y, x, y), 0.01)
        assert placed.room.bottom < h


def test_an_unknown_view_is_refused() -> None:
    """A view that does not exist is refused with the names of those that do."""
    layout = samples.single().layout()
    with pytest.raises(UsageError, match="plan, side, front"):
        elevation(layout, survey(layout), "top")


def test_a_layout_of_astronomic_size_is_refused() -> None:
    """Positions that cannot be drawn to scale end in a message, not in a traceback."""
    bench = samples.single()
    bench.small("drain", "far", z=1e9)
    bench.run("drain", "main.fill", "far.tube")
    layout = bench.layout()
    with pytest.raises(UsageError, match="too large"):
        elevation(layout, survey(layout), "side")


def test_findings_are_marked_in_elevations() -> None:
    """A finding is marked after the name of its part and explained in the legend."""
    layout = samples.single().layout()
    found = [Finding("c", Severity.UNSAFE, "pump", "It <burns>.")]
    root = ET.fromstring(elevation(layout, survey(layout), "side", samples.causes(found)))
    marks = [g for g in root.iter(f"{SVG}g") if g.get("class") == "mark unsafe"]
    assert len(marks) == 1
    assert any(text.text == "pump: It <burns>." for text in root.iter(f"{SVG}text"))


def test_smallest_text_of_an_elevation_is_legible() -> None:
    """No text is set smaller than 2.2 mm."""
    layout = samples.single().layout()
    root = ET.fromstring(elevation(layout, survey(layout), "plan"))
    sizes = [float(text.get("font-size", "nan")) for text in root.iter(f"{SVG}text")]
    assert min(sizes) >= 2.2
    assert all(math.isfinite(size) for size in sizes)
