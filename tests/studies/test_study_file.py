"""Study files: what they hold, and every fault in its place."""

import numpy as np
import pytest
from study_samples import changed, faults_of, planned, written

from plumbing.errors import LayoutError
from plumbing.layout.gathering import Faults
from plumbing.layout.load import read_grown
from plumbing.studies.study import load_study
from plumbing.studies.study.plan import radical_inverse


def test_right_study_has_no_fault(tmp_path):
    """The sample is right."""
    assert faults_of(tmp_path) == ()


@pytest.mark.parametrize(
    ("old", "new", "line", "found", "expected"),
    [
        ("study: 1", "study: 2", 1, "study `2`", "`study: 1`"),
        ("samples: 6", "sample: 6", 8, "unknown key `sample`", "`samples`"),
        ("samples: 6", "samples: 0", 8, "`0`", "1 to 1000000 samples"),
        ("samples: 6\n", "", 1, "ranges without `samples`", "`samples: 64`"),
        ("samples: 6", "samples: 999999", 1, "1999998 cases", "at most 1000000"),
        ("lines.feed.tube", "lines.fed.tube", 5, "unknown key `fed`", "`feed`"),
        ("tanks.main.fill", "tanks.main.fil", 6, "unknown key `fil`", "`fill`"),
        ("low: 40 %", "low: 40", 6, "`40` without a unit", "`55 %`"),
        ("low: 40 %", "low: 400 %", 6, "out of bounds", "share"),
        ("low: 40 %", "low: 100 %", 6, "does not rise", "`low` below `high`"),
        ("{low: 40 %, high: 100 %}", "{low: 40 %}", 6, "without `high`", "{low: ..., high: ...}"),
        ("{low: 40 %, high: 100 %}", "55 %", 6, "`55 %`", "[value, ...]"),
        ("{low: 40 %, high: 100 %}", "[55 %, 1.5 L]", 6, "`1.5 L`", "share"),
        ("[polyurethane 6x4, polyurethane 8x5]", "{low: 1 mm, high: 2 mm}", 5, "a range", "list"),
        ("stranded, ", "strandet, ", 9, "unknown result `strandet`", "`stranded`"),
        ("usable, stranded", "usable, usable", 9, "a second time", "once only"),
        ("lines.feed.tube", "lines.feed.tube, lines.feed", 5, "inside the other", "apart"),
        ("polyurethane 6x4, ", "{inside: 4 mm}, ", 5, "a mapping", "a text"),
    ],
)
def test_fault_has_its_place(tmp_path, old, new, line, found, expected):
    """Each thing wrong is one fault, at its line, with what was found and what was expected."""
    faults = faults_of(tmp_path, (old, new))
    assert len(faults) == 1, faults
    (fault,) = faults
    assert fault.place.line == line
    assert fault.place.file.endswith("study.yaml")
    assert found in fault.found
    assert expected in fault.expected


def test_all_faults_are_reported_together(tmp_path):
    """Three things wrong are three faults."""
    faults = faults_of(
        tmp_path, ("low: 40 %", "low: 40"), ("low: -5 degC", "low: -5 mm"), ("usable", "useable")
    )
    assert len(faults) == 3


def test_missing_layout_is_a_fault(tmp_path):
    """A layout that is not there is told by its path."""
    with pytest.raises(LayoutError, match=r"gone\.yaml"):
        load_study(written(tmp_path, changed(("small.yaml", "gone.yaml"))))


def test_cases_are_every_combination(tmp_path):
    """Cases are lists times samples, and no two are alike."""
    plan = planned(tmp_path)
    cases = {plan.case(number).values for number in range(1, len(plan) + 1)}
    assert len(plan) == 2 * 6
    assert len(cases) == 12


@pytest.mark.outside(
    "Halton 1960: 1/2, 1/4, 3/4 by two; 1/3, 2/3, 1/9 by three", quantity="samples"
)
def test_samples_are_those_of_the_sequence():
    """Samples follow the published sequence."""
    assert [radical_inverse(n, 2) for n in (1, 2, 3)] == [0.5, 0.25, 0.75]
    thirds = [radical_inverse(n, 3) for n in (1, 2, 3)]
    assert thirds == pytest.approx([1 / 3, 2 / 3, 1 / 9], rel=1e-14)


def test_samples_stay_in_their_range(tmp_path):
    """Values of a range lie within it and spread over all of it."""
    plan = planned(tmp_path, ("samples: 6", "samples: 200"))
    fills = [plan.case(number).values[1] for number in range(1, 201)]
    assert 40.0 <= min(fills) < 42.0
    assert 98.0 < max(fills) <= 100.0


def test_values_are_laid_over_the_layout(tmp_path):
    """A case read is the layout with the values of the case, and nothing else changed."""
    plan = planned(tmp_path)
    case = plan.case(9)
    layout = read_grown(plan.tree(case), case.file, Faults())
    tube, fill, celsius = case.values
    assert layout.lines["feed"].tube == tube
    assert layout.tanks["main"].fill == pytest.approx(fill / 100.0)
    assert layout.fuel.temperature.usual == pytest.approx(celsius)
    assert layout.lines["vent"].tube == "polyurethane 6x4"


def test_whole_section_can_be_replaced(tmp_path):
    """A list may hold whole sections, so that systems of different shape stand side by side."""
    own = (
        "lines: [{feed: {from: main.feed, to: pump.in, tube: polyurethane 6x4}, "
        "vent: {from: main.vent, to: vent, tube: polyurethane 8x5}}]"
    )
    plan = planned(tmp_path, ("lines.feed.tube: [polyurethane 6x4, polyurethane 8x5]", own))
    case = plan.case(1)
    layout = read_grown(plan.tree(case), case.file, Faults())
    assert sorted(layout.lines) == ["feed", "vent"]
    assert case.values[0] == "variant 1"


def test_list_items_are_reached_by_number(tmp_path):
    """A coordinate of a position is reached by its number, from 1."""
    plan = planned(
        tmp_path,
        ("tanks.main.fill: {low: 40 %", "tanks.main.shape.box.size.1: {low: 180 mm"),
        ("high: 100 %", "high: 260 mm"),
    )
    case = plan.case(1)
    layout = read_grown(plan.tree(case), case.file, Faults())
    assert layout.tanks["main"].shape.size[0] == pytest.approx(0.22)


def test_part_is_moved_as_a_whole(tmp_path):
    """A moved tank takes its ports along, whatever else varies in it, and nothing else moves."""
    plan = planned(
        tmp_path,
        ("tanks.main.fill: {low: 40 %, high: 100 %}",
         "tanks.main.moved-aft: [-30 mm, 0 mm, 5 cm]\n"
         "  tanks.main.moved-up: {low: -20 mm, high: 20 mm}\n"
         "  tanks.main.ports.vent.at.1: [120 mm, 130 mm]"),
    )  # fmt: skip
    still, ports = (200.0, 0.0, 0.0), {"feed": (200.0, 0.0, 40.0), "vent": (120.0, 0.0, 40.0)}
    aft = {"-30 mm": -30.0, "0 mm": 0.0, "5 cm": 50.0}
    for number in range(1, len(plan) + 1):
        case = plan.case(number)
        layout = read_grown(plan.tree(case), case.file, Faults())
        tank, (_, way, vent, up, _) = layout.tanks["main"], case.values
        by = np.array([aft[way], 0.0, up])
        assert 1000.0 * np.array(tank.shape.at) == pytest.approx(still + by)
        assert tank.shape.size == pytest.approx((0.2, 0.1, 0.08))
        ports["vent"] = (float(vent.split()[0]), 0.0, 40.0)
        for name, at in ports.items():
            assert 1000.0 * np.array(tank.ports[name].at) == pytest.approx(at + by)
        assert layout.pumps["pump"].at == pytest.approx((0.6, 0.0, 0.0))


def test_moved_part_must_be_there(tmp_path):
    """What is moved must stand in the layout, and only a length moves it."""
    for old, new in (
        ("tanks.main.fill", "tanks.gone.moved-up"),
        ("tanks.main.fill", "tanks.moved-up"),
    ):
        (fault,) = faults_of(
            tmp_path, (old, new), ("low: 40 %, high: 100 %", "low: 0 mm, high: 1 mm")
        )
        assert "unknown key" in fault.found
    faults = faults_of(tmp_path, ("tanks.main.fill", "tanks.main.moved-up"))
    assert all("%" in fault.found for fault in faults)
    assert len(faults) == 2
