"""Export keeps the page size and embeds the font."""

import struct
from io import BytesIO

import drawn_samples as samples
import pytest
from pypdf import PdfReader

from plumbing.drawing.diagram import schematic
from plumbing.drawing.export import to_pdf, to_png
from plumbing.errors import UsageError
from plumbing.network import survey


@pytest.fixture(scope="module")
def svg() -> str:
    """A drawing on A4."""
    layout = samples.single().layout()
    return schematic(layout, survey(layout))


@pytest.mark.outside("ISO 216: A4 is 210 x 297 mm", quantity="page size")
def test_pdf_page_is_a4_landscape(svg: str) -> None:
    """The PDF has one page of 297 x 210 mm."""
    reader = PdfReader(BytesIO(to_pdf(svg)))
    box = reader.pages[0].mediabox
    assert len(reader.pages) == 1
    assert float(box.width) * 25.4 / 72 == pytest.approx(297, abs=0.1)
    assert float(box.height) * 25.4 / 72 == pytest.approx(210, abs=0.1)


def test_pdf_holds_the_text_and_its_font(svg: str) -> None:
    """Part names can be searched in the PDF, and DejaVu Sans is embedded."""
    data = to_pdf(svg)
    assert "belly-vent" in PdfReader(BytesIO(data)).pages[0].extract_text()
    assert b"DejaVuSans" in data


@pytest.mark.parametrize("dpi", [50.0, 100.0])
def test_png_has_the_resolution_asked_for(svg: str, dpi: float) -> None:
    """The picture is as many dots wide as the page at that resolution."""
    data = to_png(svg, dpi)
    assert data.startswith(b"\x89PNG")
    wide, high = struct.unpack(">II", data[16:24])
    assert wide == pytest.approx(297 / 25.4 * dpi, abs=2)
    assert high == pytest.approx(210 / 25.4 * dpi, abs=2)


def test_something_else_is_refused() -> None:
    """Text that is no drawing with a page size is refused with a reason."""
    with pytest.raises(UsageError, match="page size"):
        to_pdf("<svg></svg>")
