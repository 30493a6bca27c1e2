"""The schedules of layouts whose numbers can be worked by hand."""

import csv
from dataclasses import replace
from io import StringIO
from pathlib import Path

import pytest

from plumbing import layout as layouts
from plumbing.model.layout import Layout
from plumbing.model.line import Tube
from plumbing.model.parts import Joint
from plumbing.network import survey
from plumbing.report.cards.bench import test_titles as titles_of_tests
from plumbing.report.schedules import KINDS, Column, Table, schedules, to_csv, to_text
from plumbing.report.schedules.lines import clips_of
from plumbing.report.schedules.passages import joint_diameter
from plumbing.report.words import harmless

DEMOS = sorted((Path(__file__).parents[2] / "layouts").glob("*.yaml"))


@pytest.fixture(scope="module")
def single() -> Layout:
    """The starter with one main tank."""
    return layouts.read(layouts.starter("single-main"))


def rows(layout: Layout, what: str, name: str = "") -> list[dict[str, str]]:
    """A table as its CSV is read back."""
    tables = schedules(layout, survey(layout), what)
    table = next(t for t in tables if not name or t.name == name)
    return list(csv.DictReader(StringIO(to_csv(table))))


@pytest.mark.quick("single-main", "chained-pair")
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_demo_has_all_schedules(path: Path) -> None:
    """Every table of every demo has whole rows and no NaN."""
    layout = layouts.load(path)
    tables = schedules(layout, survey(layout))
    assert {t.name for t in tables} == {*KINDS, "stock"}
    for table in tables:
        assert all(len(row) == len(table.columns) for row in table.rows)
        assert "nan" not in to_csv(table).lower()


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_a_terminal_shows_whole_tables(path: Path) -> None:
    """At 80 columns every part is a table, none wider, and no word of any cell is missing."""
    layout = layouts.load(path)
    for table in schedules(layout, survey(layout)):
        text = to_text([table], 80)
        lines = text.splitlines()
        assert all(len(line) <= 80 for line in lines)
        ruled = sum(line.startswith("  ─") for line in lines)
        assert ruled == (len(table.parts) or 1) * bool(table.rows)
        words = set(text.split())
        for row in table.rows:
            for column, cell in zip(table.columns, row, strict=True):
                assert set(column.shown(cell).split()) <= words, column.words


def test_parts_hold_every_column(single: Layout) -> None:
    """What stands in the CSV stands on the terminal too."""
    for table in schedules(single, survey(single)):
        named = {name for part in table.parts for name in part}
        assert not named or named == {column.words for column in table.columns}


def test_a_narrow_terminal_is_told_row_by_row(single: Layout) -> None:
    """Where the columns do not fit, every row is a paragraph, within the width."""
    text = to_text(schedules(single, survey(single), "lines"), 40)
    assert all(len(line) <= 40 for line in text.splitlines())
    assert "to cut [mm]:" in text


def test_pieces_add_up_to_what_is_cut(single: Layout) -> None:
    """Every line is cut once, and what is cut and left over is what is bought."""
    cut = rows(single, "cuts", "cuts")
    assert sorted(row["line"] for row in cut) == sorted(single.lines)
    for tube in rows(single, "cuts", "stock"):
        own = [float(r["cut [mm]"]) for r in cut if r["tube"] == tube["tube"]]
        assert float(tube["cut together [m]"]) == pytest.approx(sum(own) / 1e3, abs=1e-3)
        bought = float(tube["stock length [m]"]) * float(tube["to buy"])
        left = float(tube["left over [m]"])
        assert left + float(tube["cut together [m]"]) == pytest.approx(bought, abs=2e-3)


def test_a_line_without_stated_cut_is_computed(single: Layout) -> None:
    """Routed length and 5 %, two diameters an end and the spare, worked by hand for 70 mm."""
    line = replace(single.lines["pump to filter"], cut_length=None, spare=0.03)
    changed = replace(single, lines={**single.lines, line.name: line})
    row = next(r for r in rows(changed, "lines") if r["line"] == line.name)
    routed = float(row["routed [mm]"])
    assert row["cut as"] == "computed"
    assert float(row["to cut [mm]"]) == pytest.approx(1.05 * routed + 4 * 4 + 30, abs=1.5)


def test_joints_are_counted_end_by_end(single: Layout) -> None:
    """Line ends in the list are twice the lines, and the suction ones are named."""
    found = rows(single, "fittings")
    joints = [r for r in found if r["item"] in ("barb", "joint not stated", "push-in")]
    assert sum(int(r["quantity"]) for r in joints) == 2 * len(single.lines)
    for row in joints:
        named = row["where on the suction side"]
        count = len(named.split(", ")) if named else 0
        assert count == int(row["on the suction side"])
    assert sum(int(r["on the suction side"]) for r in joints) == 2 * len(
        [use for use in survey(single).lines.values() if use.role == "suction"]
    )


def test_clips_by_hand() -> None:
    """300 mm at 120 mm: supports at 20 and 280 mm and two gaps of 130 would be too wide, so 4."""
    assert clips_of(0.300, 0.120) == 4.0
    assert clips_of(0.160, 0.120) == 2.0
    assert clips_of(0.100, 0.120) == 0.0
    assert clips_of(0.300, None) is None


def test_tank_volume_by_hand(single: Layout) -> None:
    """The main tank's inside, holding share and filling multiply as written in the file."""
    row = next(r for r in rows(single, "tanks") if r["tank"] == "main")
    tank = single.tanks["main"]
    gross = float(row["inside [L]"])
    brim = gross * (1.0 - tank.displaced)
    assert float(row["holds brim-full [L]"]) == pytest.approx(brim, abs=1e-3)
    assert float(row["filled to fly [L]"]) == pytest.approx(brim * tank.fill, abs=1e-3)


def test_passages_say_what_the_file_says(single: Layout) -> None:
    """Centre and diameter come from the file; a route along x meets a former squarely."""
    found = rows(single, "passages")
    for row in found:
        passage = single.formers[row["former"]].passages[row["passage"]]
        assert float(row["across [mm]"]) == pytest.approx(passage.at[0] * 1e3, abs=0.05)
        assert float(row["up z [mm]"]) == pytest.approx(passage.at[1] * 1e3, abs=0.05)
        assert float(row["drill [mm]"]) == pytest.approx(passage.diameter * 1e3, abs=0.05)
    feed = next(r for r in found if r["line"] == "feed")
    assert feed["angle to the wall [deg]"] == "90"


@pytest.mark.outside("wall area of the stretched tube kept, worked by hand", quantity="joint size")
def test_tube_on_a_barb_by_hand() -> None:
    """6x4 tube on a 5 mm barb is sqrt(25 + 36 - 16) = 6.708 mm, with a wire lock 7.708 mm."""
    tube = Tube(name="t", outside_diameter=6e-3, inside_diameter=4e-3, material="nylon")
    barb = Joint(name="b", kind="barb", outside_diameter=5e-3)
    assert joint_diameter(barb, tube) == pytest.approx(6.7082e-3, abs=1e-7)
    assert joint_diameter(replace(barb, lock="wire"), tube) == pytest.approx(7.7082e-3, abs=1e-7)
    assert joint_diameter(replace(barb, kind="push-in"), tube) is None


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1+2", "@SUM(A1)", "  =1", "\t=1", "\r=1", "＝1"])
def test_no_cell_is_a_formula(text: str) -> None:
    """A text a spreadsheet could take for a formula begins with an apostrophe or a question."""
    assert harmless(text)[0] in "'?"


def test_hostile_names_stay_in_their_cell() -> None:
    """Commas, quotes, line breaks and control characters do not add cells or rows."""
    names = ['a","b', "x\ny", "\x00\x1b[31m", "=cmd|' /C x'!A0", "\u202egnp"]
    table = Table("t", "t", (Column("a"), Column("b", "mm", 1)), tuple((n, -1.0) for n in names))
    read = list(csv.reader(StringIO(to_csv(table))))
    assert len(read) == 1 + len(names)
    assert all(len(row) == 2 for row in read)
    assert all(row[0].isprintable() and row[0][0] not in "=+-@" for row in read)
    assert read[1][1] == "-1.0"  # numbers stay numbers
    lines = to_text([table], 80).splitlines()
    assert len(lines) == 2 + 2 + len(names)
    assert all(line.isprintable() for line in lines)


def test_lines_name_the_bench_cards_that_test_them(single: Layout) -> None:
    """What draws is tested under vacuum, what is pressed against a closed valve (practice)."""
    titles = titles_of_tests().values()
    by_words = {"suction": "under vacuum", "pressure": "against a closed valve", "vent": "Vent"}
    for row in rows(single, "lines"):
        if row["role"] in by_words:
            card = next(one.split()[0] for one in titles if by_words[row["role"]] in one)
            assert card in row["bench cards"].split(", ")
