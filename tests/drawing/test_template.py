"""A printed template measures true: read back from the files' own geometry."""

from dataclasses import replace
from io import StringIO
from math import dist
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner
from template_paths import Box, pdf_boxes, svg_circles

from plumbing import layout as layouts
from plumbing.cli import main
from plumbing.drawing.dxf import plate_dxf
from plumbing.drawing.export import to_pdf
from plumbing.drawing.plate import Plate, plate_of
from plumbing.drawing.template import template
from plumbing.drawing.tiles import overlap, sheets
from plumbing.errors import UsageError
from plumbing.model.structure import Former, Passage

LAYOUTS = Path(__file__).parents[2] / "layouts"
DEMOS = sorted(LAYOUTS.glob("*.yaml"))
TRUE = 0.1  # [mm] what a template may be off


def plates() -> list[Plate]:
    """Every former of every demo."""
    found = []
    for path in DEMOS:
        layout = layouts.load(path)
        found += [plate_of(layout, one) for one in layout.formers.values()]
    return found


def bars(boxes: list[Box]) -> tuple[list[float], list[float]]:
    """Lengths of level and upright strokes of 90 to 110 mm."""
    level = [box.wide for box in boxes if box.tall < 0.01 and 90.0 < box.wide < 110.0]
    upright = [box.tall for box in boxes if box.wide < 0.01 and 90.0 < box.tall < 110.0]
    return level, upright


def rounds(boxes: list[Box], diameter: float) -> list[tuple[float, float]]:
    """Centres of strokes as wide as high as a diameter, within 0.1 mm."""
    return [
        box.middle
        for box in boxes
        if abs(box.wide - diameter) < TRUE and abs(box.tall - diameter) < TRUE
    ]


@pytest.mark.parametrize("plate", plates(), ids=lambda plate: f"{plate.title[:8]} {plate.name}")
def test_the_pdf_of_its_own_size_measures_true(plate: Plate) -> None:
    """In the PDF's own transforms the bars are 100 mm and every hole has its size and place."""
    boxes = pdf_boxes(to_pdf(template(plate)))[0]
    level, upright = bars(boxes)
    assert min(abs(size - 100.0) for size in level) < TRUE / 10
    assert min(abs(size - 100.0) for size in upright) < TRUE / 10
    datum = rounds(boxes, 6.0)
    assert datum
    for hole in plate.holes:
        wanted = hole.at[0] - plate.datum[0], hole.at[1] - plate.datum[1]
        gaps = [
            dist((x - at[0], y - at[1]), wanted)
            for x, y in rounds(boxes, hole.diameter)
            for at in datum
        ]
        assert min(gaps) < TRUE
    wide, tall = (max(side) - min(side) for side in zip(*plate.outline, strict=True))
    assert any(abs(box.wide - wide) < TRUE and abs(box.tall - tall) < TRUE for box in boxes)


@pytest.mark.quick("Corrie", "Tarn")
@pytest.mark.parametrize("plate", plates(), ids=lambda plate: f"{plate.title[:8]} {plate.name}")
def test_sheets_of_a4_measure_true_and_meet(plate: Plate) -> None:
    """Every sheet has both bars, and every hole is whole and true on some sheet."""
    pages = pdf_boxes(to_pdf(*sheets(plate)))
    for boxes in pages:
        level, upright = bars(boxes)
        assert min(abs(size - 100.0) for size in level) < TRUE / 10
        assert min(abs(size - 100.0) for size in upright) < TRUE / 10
    for hole in plate.holes:
        assert any(
            22.0 + hole.diameter / 2 < x < 200.0 - hole.diameter / 2
            and 36.0 + hole.diameter / 2 < y < 281.0 - hole.diameter / 2
            for boxes in pages
            for x, y in rounds(boxes, hole.diameter)
        )


def test_registration_crosses_fall_together() -> None:
    """Two neighbours laid cross on cross show every hole at the same place."""
    layout = layouts.load(LAYOUTS / "twin.yaml")
    plate = plate_of(layout, layout.formers["F2"])
    first, second = pdf_boxes(to_pdf(*sheets(plate)))[:2]
    crosses = [sorted(rounds(boxes, 4.0)) for boxes in (first, second)]
    shift = crosses[0][-1][0] - crosses[1][0][0]
    assert shift == pytest.approx(178.0 - overlap(plate), abs=0.02)
    hole = plate.holes[0].diameter
    left, right = rounds(first, hole), rounds(second, hole)
    both = [(a, b) for a in left for b in right if abs(a[0] - b[0] - shift) < 0.02]
    assert len(both) == len(plate.holes)


@pytest.mark.parametrize("plate", plates(), ids=lambda plate: f"{plate.title[:8]} {plate.name}")
def test_svg_and_dxf_measure_true(plate: Plate) -> None:
    """Distances between holes and their diameters are those of the layout, to 0.01 mm."""
    circles = svg_circles(template(plate), "hole")
    assert len(circles) == len(plate.holes)
    drawing = ezdxf.read(StringIO(plate_dxf(plate)))
    assert drawing.units == ezdxf.units.MM
    space = drawing.modelspace()
    drilled = list(space.query('CIRCLE[layer=="HOLES"]'))
    lines = [e.dxf.start.distance(e.dxf.end) for e in space.query('LINE[layer=="BARS"]')]
    assert lines == pytest.approx([100.0, 100.0])
    for hole, (x, y, diameter), cut in zip(plate.holes, circles, drilled, strict=True):
        assert diameter == pytest.approx(hole.diameter, abs=0.01)
        assert 2.0 * cut.dxf.radius == pytest.approx(hole.diameter)
        assert (cut.dxf.center.x, cut.dxf.center.y) == pytest.approx(hole.at)
        first, at = circles[0], plate.holes[0].at
        assert (x - first[0], first[1] - y) == pytest.approx(
            (hole.at[0] - at[0], hole.at[1] - at[1]), abs=0.01
        )
    assert not drawing.audit().errors


def rib(**changes: object) -> Former:
    """A plain rib of 60 x 40 mm far from the origin."""
    corners = ((0.50, 0.30), (0.56, 0.30), (0.56, 0.34), (0.50, 0.34))
    whole = Former(
        name="rib",
        across="y",
        station=0.2,
        thickness=3e-3,
        material="plywood",
        outline=corners,
        passages={"vent": Passage(name="vent", at=(0.53, 0.32), diameter=8e-3)},
    )
    return replace(whole, **changes)


def test_a_small_former_takes_one_sheet_with_its_list() -> None:
    """A rib of 60 x 40 mm fits one A4 sheet, its datum on whole centimetres."""
    layout = layouts.load(LAYOUTS / "single-main.yaml")
    plate = plate_of(layout, rib())
    (page,) = sheets(plate)
    assert plate.axis == "x"
    assert "port side" in page
    assert "Ø8 at x 530, z 320" in page
    assert plate.datum == (500.0, 300.0)


def test_hostile_names_are_escaped() -> None:
    """Markup in names reaches neither the SVG's tags nor the DXF's structure."""
    layout = layouts.load(LAYOUTS / "single-main.yaml")
    name = "<script>alert(1)</script>\n0\nSECTION %%d \\P{}"
    plate = plate_of(
        layout, rib(name=name, passages={name: Passage(name=name, at=(0.53, 0.32), diameter=8e-3)})
    )
    assert "<script>" not in template(plate)
    drawing = ezdxf.read(StringIO(plate_dxf(plate)))
    assert len(drawing.modelspace().query("CIRCLE")) == 1


def test_what_cannot_be_drawn_is_said() -> None:
    """A former without outline and passages, and one larger than any page, are refused."""
    layout = layouts.load(LAYOUTS / "single-main.yaml")
    with pytest.raises(UsageError, match="neither an outline nor a passage"):
        plate_of(layout, rib(outline=(), passages={}))
    huge = ((0.0, 0.0), (9.0, 0.0), (9.0, 1.0))
    with pytest.raises(UsageError, match="larger than 4 m"):
        plate_of(layout, rib(outline=huge))
    long = ((0.0, 0.0), (3.9, 0.0), (3.9, 3.9), (0.0, 3.9))
    with pytest.raises(UsageError, match="sheets of A4"):
        sheets(plate_of(layout, rib(outline=long)))


def test_the_command_writes_each_form(tmp_path: Path) -> None:
    """PDF holds all formers; SVG and DXF come a file a former; other endings are refused."""
    layout, run = str(LAYOUTS / "twin.yaml"), CliRunner()
    for ending, count in (("pdf", 1), ("svg", 3), ("dxf", 3)):
        target = tmp_path / ending
        target.mkdir()
        done = run.invoke(main, ["template", layout, "-o", str(target / f"t.{ending}")])
        assert done.exit_code == 0
        assert len(list(target.iterdir())) == count
    wrong = run.invoke(main, ["template", layout, "-o", str(tmp_path / "t.png")])
    assert wrong.exit_code == 2
    wrong = run.invoke(main, ["template", layout, "--former", "F22", "-o", str(tmp_path / "t.pdf")])
    assert "F2" in wrong.output
    assert wrong.exit_code == 2


def test_nothing_but_a_hole_is_drawn_round() -> None:
    """Datum and glueing marks are no circles: nobody drills them."""
    layout = layouts.load(LAYOUTS / "twin.yaml")
    plate = plate_of(layout, layout.formers["F2"])
    for page in (template(plate), *sheets(plate)[:-1]):
        rings = page.count("<circle")
        assert rings <= 2 * len(plate.holes)  # rim and centre of each
    assert template(plate).count("<circle") == 2 * len(plate.holes)
    assert "datum, no hole" in template(plate)
