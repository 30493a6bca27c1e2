"""The schematic: nothing overlaps, everything is there, and every name is safe."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path

import drawn_samples as samples
import pytest
from drawn_faults import faults
from drawn_samples import Bench
from drawn_systems import absurd, generated

from plumbing.drawing.diagram import draw, place, schematic
from plumbing.drawing.frame import SHEETS
from plumbing.findings import Finding, Severity
from plumbing.layout import load
from plumbing.model.layout import Layout
from plumbing.network import survey

SVG = "{http://www.w3.org/2000/svg}"
MAKERS: list[Callable[[], Bench]] = [
    samples.single,
    samples.chain,
    samples.teed,
    samples.wings,
    samples.twin,
    lambda: samples.chain(6),
    lambda: samples.parallel(3),
    lambda: samples.parallel(10),
]
NAMES = ["single", "chain", "teed", "wings", "twin", "chain of 6", "three", "ten"]


def _svg(bench: Bench, findings: list[Finding] | None = None) -> str:
    layout = bench.layout()
    return schematic(layout, survey(layout), samples.causes(findings or []))


@pytest.mark.parametrize("count", [0, 12, 140])
@pytest.mark.parametrize("make", MAKERS, ids=NAMES)
def test_nothing_overlaps(make: Callable[[], Bench], count: int) -> None:
    """No text, symbol or line of a usual topology is in the way of another, marked or not."""
    bench = make()
    layout = bench.layout()
    assert faults(place(layout, survey(layout), samples.some_causes(bench, count))) == []


@pytest.mark.parametrize("seed", range(40))
def test_nothing_overlaps_in_generated_layouts(seed: int) -> None:
    """The same holds for random systems of up to some 40 parts."""
    bench = generated(seed)
    layout = bench.layout()
    assert faults(place(layout, survey(layout), samples.some_causes(bench, seed % 25))) == []


@pytest.mark.parametrize("seed", range(25))
def test_nothing_overlaps_in_absurd_layouts(seed: int) -> None:
    """Even parts joined at random are drawn so that the mistake can be seen."""
    bench = absurd(seed)
    layout = bench.layout()
    assert faults(place(layout, survey(layout), samples.some_causes(bench, seed % 9))) == []


DEMOS = sorted((Path(__file__).parents[2] / "layouts").glob("*.yaml"))


@pytest.mark.parametrize("count", [0, 25])
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_nothing_overlaps_in_the_demo_layouts(path: Path, count: int) -> None:
    """The layouts that come with the program are drawn cleanly, with and without findings."""
    layout = load(str(path))
    names = [part.name for part in layout.parts()] + list(layout.lines)
    found = [
        Finding("c", list(Severity)[n % 3], names[n * 5 % len(names)], "Something is wrong here.")
        for n in range(count)
    ]
    assert faults(place(layout, survey(layout), samples.causes(found))) == []


def test_the_geometry_check_can_fail() -> None:
    """A label moved onto a tank is found by the geometry check."""
    layout = samples.single().layout()
    placed = place(layout, survey(layout))
    tank, label = placed.plan.figures["p1"], placed.plan.figures["l2"]
    label.x, label.y = tank.x, tank.y + 8
    assert any("symbol" in fault for fault in faults(placed))


@pytest.mark.parametrize("make", MAKERS, ids=NAMES)
def test_every_part_and_line_is_a_group_with_a_title(make: Callable[[], Bench]) -> None:
    """A page can find every part and line by name, and each says what it is."""
    bench = make()
    root = ET.fromstring(_svg(bench))
    groups = {g.get("data-part"): g for g in root.iter(f"{SVG}g") if g.get("data-part")}
    names = {name for section in bench.sections.values() for name in section} | set(bench.lines)
    assert set(groups) == names
    assert all(group.find(f"{SVG}title") is not None for group in groups.values())
    ids = [group.get("id") for group in groups.values()]
    assert len(set(ids)) == len(ids)


@pytest.mark.parametrize("make", MAKERS, ids=NAMES)
def test_smallest_text_is_legible(make: Callable[[], Bench]) -> None:
    """No text is set smaller than 2.2 mm on the sheet."""
    bench = make()
    layout = bench.layout()
    placed = place(layout, survey(layout), samples.some_causes(bench, 5))
    root = ET.fromstring(draw(placed, layout))
    diagram = next(g for g in root.iter(f"{SVG}g") if g.get("class") == "diagram")
    inside = {id(text) for text in diagram.iter(f"{SVG}text")}
    for text in root.iter(f"{SVG}text"):
        scale = placed.scale if id(text) in inside else 1.0
        assert float(text.get("font-size", "0")) * scale >= 2.2


def test_flow_reads_from_left_to_right() -> None:
    """From the far tank to the engine each part stands right of the one before."""
    bench = samples.chain(3)
    layout = bench.layout()
    plan = place(layout, survey(layout)).plan
    way = ["main-3", "main-2", "main-1", "header", "fill-tee", "shut-off", "pump", "engine"]
    lefts = [plan.figures[plan.keys[name]].x for name in way]
    assert lefts == sorted(lefts)


def test_vents_stand_above_and_fill_below() -> None:
    """A vent outlet stands above its tank, a fill port below what it fills."""
    layout = samples.single().layout()
    plan = place(layout, survey(layout)).plan
    top = {name: plan.figures[key].y for name, key in plan.keys.items()}
    assert top["belly-vent"] < top["main"]
    assert top["fill-port"] > top["fill-valve"] > top["fill-tee"]


def test_usual_systems_fit_a4_and_large_ones_take_a_larger_sheet() -> None:
    """A single main fits A4; ten tanks take a larger sheet, and the page says so."""
    for make, sizes in ((samples.single, {"A4"}), (lambda: samples.parallel(10), {"A3", "A2"})):
        layout = make().layout()
        placed = place(layout, survey(layout))
        assert placed.size in sizes
        w, h = SHEETS[placed.size]
        assert f'width="{w:g}mm" height="{h:g}mm"' in draw(placed, layout)


HOSTILE = {
    "main": "<script>alert('x')</script>&\"",
    "header": "מיכל-קדמי-ימין",
    "pump": "p\x00u\x1bm\u202ep",
    "fill-tee": "t" * 300,
    "engine": "発動機",
}


def _renamed(bench: Bench) -> Layout:
    from dataclasses import replace

    from plumbing.model.layout import split_port

    def port(reference: str) -> str:
        part, name = split_port(reference)
        return f"{HOSTILE.get(part, part)}.{name}"

    for section in bench.sections.values():
        for old in list(section):
            if old in HOSTILE:
                section[HOSTILE[old]] = replace(section.pop(old), name=HOSTILE[old])  # type: ignore[type-var]
    bench.lines = {
        name: replace(line, from_=port(line.from_), to=port(line.to))
        for name, line in bench.lines.items()
    }
    bench.title = "</title><svg onload=x> \x07 & Sons"
    return bench.layout()


def test_hostile_names_do_no_harm() -> None:
    """Markup, control, right-to-left and endless names are drawn as harmless text in place."""
    layout = _renamed(samples.single())
    found = [Finding("x", Severity.FAULT, HOSTILE["main"], "<b>\x01bold</b> & more")]
    placed = place(layout, survey(layout), samples.causes(found))
    assert faults(placed) == []
    svg = draw(placed, layout, date="<i>")
    root = ET.fromstring(svg)
    assert not [e for e in root.iter() if e.tag in {f"{SVG}script", f"{SVG}b", f"{SVG}i"}]
    assert re.search(r"[\x00-\x08\x0b-\x1f\u202a-\u202e\u2066-\u2069]", svg) is None


def test_findings_are_marked_and_explained() -> None:
    """Each finding is a numbered mark at its part and a row of the legend, the worst first."""
    bench = samples.single()
    found = [
        Finding("advice-check", Severity.ADVICE, "header", "Small."),
        Finding("unsafe-check", Severity.UNSAFE, "line-2", "Bad.", parts=("main",)),
    ]
    root = ET.fromstring(_svg(bench, found))
    marks = [g for g in root.iter(f"{SVG}g") if (g.get("class") or "").startswith("mark ")]
    assert [(g.get("data-finding"), g.get("data-check")) for g in marks].count(
        ("1", "unsafe-check")
    ) == 2
    words = [t.text for t in root.iter(f"{SVG}text")]
    assert "line-2: Bad." in words
    assert words.index("line-2: Bad.") < words.index("header: Small.")


def test_a_long_list_of_findings_says_how_many_are_left_out() -> None:
    """The legend that is full says how many findings only the report has."""
    bench = samples.single()
    found = [Finding("c", Severity.ADVICE, "main", f"Remark {n}.") for n in range(90)]
    words = [t.text or "" for t in ET.fromstring(_svg(bench, found)).iter(f"{SVG}text")]
    shown = sum(word.startswith("main: Remark") for word in words)
    assert f"and {90 - shown} more: all are in the report" in words


def test_an_unknown_part_of_a_finding_is_only_in_the_legend() -> None:
    """A finding about a former or the whole layout does not upset the drawing."""
    svg = _svg(samples.single(), [Finding("c", Severity.FAULT, "former-3", "No edge.")])
    assert "former-3: No edge." in svg
    assert 'class="mark fault"' not in svg


def test_a_layout_of_nothing_is_an_empty_sheet() -> None:
    """No parts, no lines: a sheet with frame and title, no error."""
    layout = Bench("Nothing yet").layout()
    assert "Nothing yet" in schematic(layout, survey(layout))


def test_a_pump_built_in_reversed_is_drawn_reversed() -> None:
    """The pump's triangle points to its outlet, even where that is the wrong way round."""
    bench = Bench()
    bench.tank("main")
    bench.small("pump", "pump")
    bench.engine()
    bench.run("suction", "main.out", "pump.out")
    bench.run("pressure", "pump.in", "engine.feed")
    layout = bench.layout()
    plan = place(layout, survey(layout)).plan
    figure = plan.figures[plan.keys["pump"]]
    left, right = figure.ports["in"], figure.ports["out"]
    assert (figure.turn == "left") == (left.x > right.x)


def test_peak_flow_is_written_at_its_line() -> None:
    """The flow at peak stands with its unit at the line it was given for."""
    layout = samples.single().layout()
    svg = schematic(layout, survey(layout), peak={"line-2": 540e-6 / 60})
    assert "540 ml/min" in svg


def test_drawing_is_the_same_every_time() -> None:
    """The same layout gives the same text, byte for byte."""
    assert _svg(samples.wings()) == _svg(samples.wings())
