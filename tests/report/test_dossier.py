"""The dossier as PDF."""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import replace
from functools import cache
from io import BytesIO

import pypdf
import pytest
from click.testing import CliRunner
from report_subjects import LAYOUTS, MARKUP, crowded, hostile, subject

from plumbing.checks.case import Case
from plumbing.checks.examined import Examined
from plumbing.checks.run import Verdict
from plumbing.cli import main
from plumbing.errors import UsageError
from plumbing.findings import Figure, Finding, Severity
from plumbing.report.dossier import dossier
from plumbing.report.dossier.contents import contents
from plumbing.report.dossier.tables import text, typeset
from plumbing.report.schedules.table import Column, Table
from plumbing.report.subject import Subject
from plumbing.report.words import version

NAMES = pytest.mark.parametrize("name", ["single-main", "twin", "bad"])
SECTIONS = [
    "Findings",
    "Stages and evidence",
    "Drawings",
    "Full flow",
    "Feed order, balance, endurance",
    "Filling, overflow, parking",
    "Schedules",
    "Tank sheets",
    "Bench tests",
    "Before and after a flight",
    "First engine runs",
    "Opening up",
    "Fuel log",
    "Maintenance",
    "Certificate file",
    "Labels",
    "Unchecked, assumed, sources",
    "Sign-off",
]


@cache
def made(name: str, paper: str = "a4") -> pypdf.PdfReader:
    """The dossier of a demo aircraft, read back."""
    return pypdf.PdfReader(BytesIO(dossier(subject(name), paper)))


@cache
def words(name: str) -> str:
    """Everything that can be selected in it, white space made single."""
    return " ".join(" ".join(page.extract_text() for page in made(name).pages).split())


def plain(some: str) -> str:
    """Text without spaces and breaks, to be found across line ends."""
    return re.sub(r"[\s\u200b]", "", some)


@pytest.mark.slow
def test_every_section_is_in_the_outline():
    """The outline of the file leads to every section."""

    def titles(outline):
        for one in outline:
            if isinstance(one, list):
                yield from titles(one)
            else:
                yield one.title

    listed = list(titles(made("twin").outline))
    for section in SECTIONS:
        assert any(section in title for title in listed), section


@pytest.mark.quick("single-main")
@NAMES
def test_every_font_is_embedded(name):
    """Each font of each page has its font file inside."""
    found = 0
    for page in made(name).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            font = font.get_object()
            inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            described = inner["/FontDescriptor"].get_object()
            assert any(f"/FontFile{kind}" in described for kind in ("", "2", "3"))
            found += 1
    assert found


@pytest.mark.slow
def test_pages_are_numbered_and_name_the_file():
    """Each page says its number, the count, the file and the beginning of its digest."""
    pages = made("twin").pages
    digest = hashlib.sha256((LAYOUTS / "twin.yaml").read_bytes()).hexdigest()
    for number, page in enumerate(pages, start=1):
        foot = plain(page.extract_text())
        assert f"page{number}of{len(pages)}" in foot
        assert plain(f"twin.yaml SHA-256 {digest[:12]}") in foot
        assert plain(f"1 May 2026 {f'plumbing {version()}' if version() else ''}") in foot


@pytest.mark.outside("ISO 216 and ANSI Y14.1 paper sizes", quantity="size of the pages")
@pytest.mark.parametrize(("paper", "size"), [("a4", (595.28, 841.89)), ("letter", (612.0, 792.0))])
def test_the_paper_is_the_one_asked_for(paper, size):
    """Pages are A4 or letter, upright or on their side."""
    for page in made("single-main", paper).pages:
        box = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        assert box == pytest.approx(size, abs=0.1)


@pytest.mark.quick("single-main")
@NAMES
def test_every_finding_is_in_it(name):
    """What each finding says can be found in the text."""
    said = plain(words(name))
    for finding in subject(name).examined.findings:
        assert plain(finding.what)[:40] in said


@pytest.mark.quick("single-main")
@NAMES
def test_bench_values_stand_beside_their_boxes(name):
    """Each value that is to be read stands on its card, with its prediction and its limit."""
    said = plain(words(name))
    for card in contents(subject(name))["cards"]["bench"]:
        for what, predicted, _, limit, *_ in card["rows"]:
            assert plain(what) in said
            assert plain(predicted) in said
            assert plain(limit) in said


@pytest.mark.quick("single-main")
@NAMES
def test_every_line_has_a_flag_and_a_row(name):
    """Line names stand in the schedule and on the flags."""
    said = plain(words(name))
    for number, line in enumerate(subject(name).examined.case.layout.lines, start=1):
        assert said.count(plain(line)) >= 3
        assert plain(f"{number} {line}") in said


@pytest.mark.slow
def test_markup_in_names_is_text():
    """Marks that mean something to the typesetter come out as themselves."""
    wild = '#import "x": * $x^2$ *bold* _it_ `raw` \\ @cite <label> = head'
    base = hostile()
    layout = base.examined.case.layout
    object.__setattr__(layout, "notes", wild)
    reader = pypdf.PdfReader(BytesIO(dossier(base)))
    said = plain(" ".join(page.extract_text() for page in reader.pages))
    assert plain(wild) in said
    assert plain(MARKUP) in said


@pytest.mark.slow
def test_very_many_findings_fit():
    """Two hundred findings make a longer dossier, no failure."""
    reader = pypdf.PdfReader(BytesIO(dossier(crowded())))
    said = plain(" ".join(page.extract_text() for page in reader.pages))
    assert "199" in said
    assert "200" in said


@pytest.mark.slow
def test_what_is_not_there_leaves_no_holes():
    """A limit without a measured value is not printed; a schedule of nothing has its heading."""
    layout = subject("single-main").examined.case.layout
    lines = {name: replace(line, through=()) for name, line in layout.lines.items()}
    one = Finding("a", Severity.FAULT, "fill", "No interval.", allowed=Figure(2.0, "count"))
    bare = Case(replace(layout, formers={}, lines=lines))
    paper = dossier(Subject(Examined(bare, Verdict((one,), (), ())), "1 May 2026"))
    said = " ".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(paper)).pages)
    assert "allowed2" not in plain(said)
    assert re.search(r"Passages\s+to\s+drill\s+none", said)


@pytest.mark.quick("single-main")
@NAMES
def test_its_data_is_plain(name):
    """What goes to the typesetter is JSON without a not-a-number."""
    json.dumps(contents(subject(name)), allow_nan=False)


def test_a_view_that_cannot_be_drawn_says_why():
    """An outlet a million kilometres away: the schematic is there, the views say the reason."""
    layout = subject("single-main").examined.case.layout
    far = replace(layout.outlets["vent"], name="far", at=(0.52, 0.085, 1e9))
    case = Case(replace(layout, outlets={**layout.outlets, "far": far}))
    about = Subject(Examined(case, Verdict((), (), ())), "1 May 2026")
    why = {one["title"]: one.get("missing", "") for one in contents(about)["drawings"]}
    assert why["Schematic"] == ""
    assert "too large to be drawn to scale" in why["Side elevation"]
    pages = pypdf.PdfReader(BytesIO(dossier(about))).pages
    said = " ".join(" ".join(page.extract_text() for page in pages).split())
    assert "Not drawn: the layout is too large" in said


def test_there_is_no_other_paper():
    """An unknown paper is an error in words."""
    with pytest.raises(UsageError, match="letter"):
        dossier(subject("single-main"), "a5")


def test_long_words_may_be_broken_and_read_as_before():
    """Places to break show nothing and change no letter."""
    word = "averyveryverylongnamewithoutanybreak.port"
    broken = text(word)
    assert broken != word
    assert broken.replace("\u200b", "") == word
    assert text("short words only") == "short words only"


def test_empty_columns_are_left_out():
    """A column in which nothing is known takes no room."""
    table = Table("t", "T", (Column("a"), Column("b"), Column("c", "mm")), (("x", "", 1.0),))
    assert typeset(table)["heads"] == ["a", "c"]


def test_the_command_writes_both_forms(tmp_path):
    """The ending chooses page or dossier; another ending is an error."""
    layout = str(LAYOUTS / "single-main.yaml")
    codes = []
    for name in ("a.html", "a.pdf", "a.doc"):
        done = CliRunner().invoke(main, ["report", layout, "-o", str(tmp_path / name)])
        codes.append(done.exit_code)
    assert codes == [0, 0, 2]
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "a.html").read_text("utf-8").startswith("<!DOCTYPE html>")
    assert not (tmp_path / "a.doc").exists()


def test_no_column_is_narrower_than_its_longest_word():
    """A word that may not be broken has its room, however crowded the table is."""
    columns = (Column("for tube"), Column("material"), Column("where"))
    table = Table("t", "T", columns, (("polyurethane 8x5", "brass", "here, " * 80),))
    made = typeset(table)
    assert made["least"][0] >= len("polyurethane") * 0.6
    assert made["least"][0] < made["needs"][0]


@pytest.mark.slow
def test_words_of_the_fittings_stand_apart():
    """The material of a joint does not run into the tube it is for."""
    page = next(p for p in made("twin").pages if "Fittings" in p.extract_text())
    runs = []
    page.extract_text(visitor_text=lambda t, cm, _tm, _f, size: runs.append((t, cm[4:], size)))
    tubes = [(*at, size) for t, at, size in runs if t.strip() == "polyurethane"]
    rows = [
        (x - left, size)
        for t, (x, y), _ in runs
        for left, up, size in tubes
        if t.strip() == "brass" and abs(y - up) < 2.0
    ]
    assert rows
    for gap, size in rows:
        assert gap > 0.55 * size * len("polyurethane")
