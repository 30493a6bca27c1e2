"""Text: measured as the font says, cut and wrapped into the room there is."""

import pytest
from fontTools.ttLib import TTFont

from plumbing.drawing.export import FONTS
from plumbing.drawing.text import clean, elide, shorten, width, wrap

SAMPLE = "Header tank 1.5 L – øil µm Ωℓ ≥ (4x2.5) Тест Δp שלום"


@pytest.mark.outside("DejaVu Sans, its own hmtx table read by fontTools", quantity="text width")
@pytest.mark.parametrize(("face", "bold"), [("DejaVuSans", False), ("DejaVuSans-Bold", True)])
def test_width_is_the_sum_of_the_fonts_advances(face: str, bold: bool) -> None:
    """A text is as wide as the font's own advance widths add up to."""
    font = TTFont(FONTS / f"{face}.ttf")
    glyphs, advances = font.getBestCmap(), font["hmtx"]
    regular = TTFont(FONTS / "DejaVuSans.ttf")
    plain = regular.getBestCmap()
    units = sum(
        advances[glyphs[ord(ch)]][0] if ord(ch) in glyphs else regular["hmtx"][plain[ord(ch)]][0]
        for ch in SAMPLE
    )
    assert width(SAMPLE, 3.0, bold) == pytest.approx(3.0 * units / font["head"].unitsPerEm)


def test_clean_drops_control_and_direction_characters() -> None:
    """Control and direction-changing characters never reach a drawing."""
    assert clean("a\x00b\u202ec\u2066d\n\te\x7f") == "abcd e"


def test_clean_bounds_the_length() -> None:
    """A name of a million characters is cut before it is looked at."""
    assert len(clean("x" * 1_000_000)) <= 400


@pytest.mark.parametrize("room", [6.0, 9.0, 20.0])
def test_elided_text_fits_and_keeps_both_ends(room: float) -> None:
    """A long name loses its middle, fits its room and keeps its ends."""
    short = elide("saddle-tank-left-lower-1", room, 3.0)
    assert width(short, 3.0) <= room
    assert "…" in short
    assert short[0] == "s"
    if room > 8:
        assert short.endswith("1")


def test_text_that_fits_is_left_alone() -> None:
    """A text that fits is not touched."""
    assert elide("header", 40.0, 3.0) == shorten("header", 40.0, 3.0) == "header"


def test_a_sentence_loses_its_end() -> None:
    """A sentence is cut at a word and says that it goes on."""
    short = shorten("Air reaches the header before the tank is empty", 40.0, 3.0)
    assert short.startswith("Air reaches")
    assert short.endswith(" …")
    assert width(short, 3.0) <= 40.0


@pytest.mark.parametrize("rows", [1, 2, 3])
def test_wrapped_rows_fit(rows: int) -> None:
    """Wrapped text keeps to its rows and its room, whatever the words."""
    for text in ("fuel-valve-left", "x" * 90, "a b c d e f g h i j k l m n o p", "", "-" * 50):
        broken = wrap(text, 14.0, 3.0, rows)
        assert len(broken) <= rows
        assert all(width(row, 3.0) <= 14.0 for row in broken)
