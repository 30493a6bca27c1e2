"""Photos in the dossier and on the page, and what the dossier says of itself as a file."""

import base64
import re
from io import BytesIO

import pypdf
import pytest
from click.testing import CliRunner
from pictures import png
from report_subjects import LAYOUTS

from plumbing import api
from plumbing.cli import main


def with_photos(folder):
    """A layout with two photos."""
    text = (LAYOUTS / "single-main.yaml").read_text(encoding="utf-8")
    photos = (
        "photos:\n"
        "  bay: {file: bay.png, part: main, words: the bay before it was closed, stage: built, "
        "on: 2026-04-01, by: A. Builder}\n"
        "  pump: {file: pump.png}\n"
    )
    path = folder / "mine.yaml"
    path.write_text(text + photos, encoding="utf-8")
    (folder / "bay.png").write_bytes(png(30, 20))
    (folder / "pump.png").write_bytes(png(20, 30))
    return path


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Dossier, its bytes and the page of a layout with photos."""
    path = with_photos(tmp_path_factory.mktemp("photos"))
    content = api.report(path, "pdf", date="1 May 2026")
    return pypdf.PdfReader(BytesIO(content)), content, api.report(path).decode()


def words_of(dossier):
    """Everything that can be read in it."""
    return " ".join(" ".join(page.extract_text() for page in dossier.pages).split())


def test_photos_stand_in_the_dossier_with_their_captions(made):
    """Both as pictures of their own size, with part, words, day and name."""
    dossier = made[0]
    sizes = {
        (one["/Width"], one["/Height"])
        for page in dossier.pages
        for one in page["/Resources"].get("/XObject", {}).values()
        if one.get("/Subtype") == "/Image"
    }
    assert {(30, 20), (20, 30)} <= sizes
    said = words_of(dossier)
    assert "main: the bay before it was closed (2026-04-01 by A. Builder)" in said
    assert "Photos: bay" in said


def test_each_stage_has_room_for_two_names(made):
    """Drawing, built, bench-tested and flown, each by the builder and an inspector."""
    said = words_of(made[0])
    signed = said[said.rindex("Sign-off") :]
    for stage in ("Drawing", "Built", "Bench-tested", "Flown"):
        assert stage in signed
    assert signed.count("builder") == signed.count("inspector") == 4


def test_photos_stand_on_the_page(made):
    """Inside the page, so that it needs no other file, with words for those who cannot see."""
    found = re.findall(r'<img src="data:image/png;base64,([^"]+)" alt="([^"]+)">', made[2])
    assert [base64.b64decode(data) for data, _ in found] == [png(30, 20), png(20, 30)]
    assert found[0][1].startswith("main: the bay")


@pytest.mark.outside("ISO 19005-2 (PDF/A-2), what a file says of itself", quantity="PDF/A level")
def test_the_dossier_is_fit_to_be_kept(made):
    """It says PDF/A-2, level A, bears its day, and is tagged, with a language and no script."""
    dossier, content, _ = made
    packet = dossier.xmp_metadata.stream.get_data().decode()
    assert re.search(r"pdfaid:part[^2]*2", packet)
    assert re.search(r"pdfaid:conformance[^A]*A", packet)
    assert dossier.metadata.creation_date.strftime("%Y-%m-%d") == "2026-05-01"
    root = dossier.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712  # an object of its own
    assert root["/Lang"] == "en"
    assert b"/JavaScript" not in content


def test_a_photo_that_cannot_be_decoded_stops_the_report(tmp_path):
    """Its rows are filtered in a way that there is not: exit code 2, its line, nothing written."""
    path = with_photos(tmp_path)
    (tmp_path / "bay.png").write_bytes(png(filtered=9))
    out = tmp_path / "dossier.pdf"
    done = CliRunner().invoke(main, ["report", str(path), "-o", str(out)])
    assert done.exit_code == 2
    assert "`bay.png`, which is damaged" in done.output
    assert not out.exists()


def test_no_result_is_written_over_a_photo(tmp_path):
    """A photo is an input."""
    path = with_photos(tmp_path)
    done = CliRunner().invoke(main, ["draw", str(path), "-o", str(tmp_path / "bay.png"), "--force"])
    assert done.exit_code == 2
    assert (tmp_path / "bay.png").read_bytes() == png()
