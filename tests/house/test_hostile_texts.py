"""Whatever a layout says in words, every form of output holds it as words and nothing else."""

import csv
import json
import re
import xml.etree.ElementTree as ET

import ezdxf
import html5lib
import pypdf
import pytest

WORDS = (
    "</script><script>alert(1)</script><img src=x onerror=alert(1)> & \"'`{{7*7}}${7} ]]> -->"
    ' =1+1|A0 #import "x": * $a$ \\N \\P %%d %s [i] <!DOCTYPE x [<!ENTITY y "z">]>'
)
STARTS = ("=", "+", "@", "-", "\t", "\r")
NAMES = {"main": "אבגד" * 10, "header": "油箱" * 20}  # right to left, and wide
ACTIVE = {"script", "foreignObject", "image", "a", "use", "iframe", "object", "animate", "set"}


@pytest.fixture(scope="module")
def spoken(root, tmp_path_factory):
    """A layout in which every free text is full of what some reader could take for orders."""
    text = (root / "layouts" / "single-main.yaml").read_text()
    quoted = json.dumps(WORDS)
    for key in ("title", "origin", "notes"):
        text = re.sub(rf"(?m)^{key}: .*$", lambda _, key=key: f"{key}: {quoted}", text)
    text = re.sub(r"(?m)^  category: .*$", lambda _: f"  category: {quoted}", text)
    text = re.sub(r"(?<![-\w])(colour|label): [a-z ]+", lambda found: f"{found[1]}: {quoted}", text)
    for name, other in NAMES.items():
        text = re.sub(rf"(?<=[ {{\[])(?<!role: ){name}(?=[.:,\]])", other, text)
    assert text.count(quoted) >= 5
    assert all(text.count(other) >= 3 for other in NAMES.values())
    path = tmp_path_factory.mktemp("spoken") / "said & done.yaml"
    path.write_text(text)
    return path


def written(called, spoken, *arguments):
    """What a command wrote into a file beside the layout, or the first of several."""
    into = spoken.with_name(arguments[-1])
    done = called(*arguments[:-1], spoken, "-o", into)
    assert done.exit_code in (0, 1), done.output
    return min(spoken.parent.glob(f"{into.stem}*{into.suffix}"))


@pytest.mark.parametrize(
    "command", ["check", "fly", "fill", "park", "faults", "tilt", "size", "schedule", "remedy"]
)
def test_text_has_no_control_characters(called, spoken, command):
    """The screen gets lines of printing characters."""
    done = called(command, spoken)
    assert done.exit_code in (0, 1), done.output
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", done.output)


@pytest.mark.parametrize("command", ["check", "fly", "fill", "park", "faults", "tilt"])
def test_json_says_the_same_words(called, spoken, command):
    """JSON parses; the names in it, and the title where it has one, are those of the layout."""
    said = json.loads(called(command, spoken, "--format", "json").stdout)
    assert said.get("title", WORDS) == WORDS
    assert any(name in json.dumps(said, ensure_ascii=False) for name in NAMES.values())


@pytest.mark.parametrize("command", ["draw", "fly", "tilt", "template"])
def test_svg_has_nothing_active(called, spoken, command):
    """An SVG parses without entities and holds no script, link, handler or reference."""
    root = ET.fromstring(written(called, spoken, command, f"{command}.svg").read_text())
    for element in root.iter():
        assert element.tag.rpartition("}")[2] not in ACTIVE
        assert not [name for name in element.attrib if name.startswith("on") or "href" in name]


def test_page_has_the_scripts_it_had(called, spoken, root):
    """The page holds as many scripts and images as that of the layout with plain words."""
    pages = [written(called, spoken, "report", "page.html").read_text()]
    plain = spoken.with_name("plain.html")
    called("report", root / "layouts" / "single-main.yaml", "-o", plain)
    pages.append(plain.read_text())
    trees = [html5lib.parse(page, namespaceHTMLElements=False) for page in pages]
    for tag in ("script", "img", "iframe", "style", "link"):
        assert len({len(tree.findall(f".//{tag}")) for tree in trees}) == 1
    for element in trees[0].iter():
        assert not [name for name in element.attrib if str(name).startswith("on")]


@pytest.mark.parametrize("command", ["draw", "report", "template"])
def test_pdf_has_no_actions(called, spoken, command):
    """A PDF opens, has pages, and holds no script, launch or link."""
    pages = pypdf.PdfReader(written(called, spoken, command, f"{command}.pdf")).pages
    assert len(pages) >= 1
    for page in pages:
        actions = [note.get_object().get("/A", {}).get("/S") for note in page.get("/Annots", [])]
        assert not {"/URI", "/JavaScript", "/Launch"} & set(actions)


def test_dxf_opens(called, spoken):
    """A DXF is read back without anything to repair."""
    drawing = ezdxf.readfile(written(called, spoken, "template", "template.dxf"))
    assert not drawing.audit().errors


def test_no_cell_is_a_formula(called, spoken):
    """Schedules are tables of even rows, and no cell is one a spreadsheet would compute."""
    folder = written(called, spoken, "schedule", "schedules")
    found = sorted(folder.glob("*.csv"))
    assert found
    for path in found:
        with path.open(newline="") as file:
            rows = list(csv.reader(file))
        assert len({len(row) for row in rows}) == 1
        for cell in (cell for row in rows for cell in row):
            assert not cell.startswith(STARTS) or re.fullmatch(r"-?[\d.]+", cell), cell
