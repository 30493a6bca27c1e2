"""SVG text to PDF and PNG bytes through the typesetter, with the page size kept."""

import re
import zlib
from pathlib import Path
from typing import Literal

from plumbing.drawing import sheet
from plumbing.errors import UsageError

_SIZE = re.compile(r'<svg[^>]*?\bwidth="([0-9.]+)mm"[^>]*?\bheight="([0-9.]+)mm"')
_DPI = (20.0, 1200.0)
FONTS = Path(__file__).parent / "fonts"  # the faces that every drawing and paper is set in
_HEAD = 33  # bytes of a PNG before its second chunk
_STAMP = f'#set document(date: none, keywords: "{sheet.MARK}")'  # same drawing, same bytes


def to_pdf(svg: str, *more: str) -> bytes:
    """One PDF page of its own size for each drawing, fonts embedded."""
    return _typeset((svg, *more), "pdf", 144.0)


def to_png(svg: str, dpi: float = 300.0) -> bytes:
    """PNG picture of the drawing at `dpi` dots per inch (20 to 1200), with the program's mark."""
    made = _typeset((svg,), "png", min(max(dpi, _DPI[0]), _DPI[1]))
    note = b"tEXtSoftware\x00" + sheet.MARK.encode()
    size, check = len(note) - 4, zlib.crc32(note)
    return made[:_HEAD] + size.to_bytes(4) + note + check.to_bytes(4) + made[_HEAD:]


def paper_size(svg: str) -> tuple[float, float]:
    """Width and height of a drawing's paper [mm].

    Raises
    ------
    UsageError
        It states none.
    """
    match = _SIZE.search(svg)
    if match is None:
        raise UsageError("not a drawing: its page size in mm is missing")
    return float(match[1]), float(match[2])


def _typeset(svgs: tuple[str, ...], form: Literal["pdf", "png"], ppi: float) -> bytes:
    import typst  # loads the typesetter; only export needs it

    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(FONTS)])
    made = typst.compile(
        "\n".join([_STAMP, *(_page(svg, number) for number, svg in enumerate(svgs))]).encode(),
        format=form,
        ppi=ppi,
        font_paths=fonts,
        sys_inputs={f"svg{number}": svg for number, svg in enumerate(svgs)},
    )
    if not isinstance(made, bytes):
        raise UsageError("the drawing does not fit on one page")
    return made


def _page(svg: str, number: int) -> str:
    """A page of the drawing's own size; a change of size begins a new page."""
    width, height = paper_size(svg)
    begin = "#pagebreak(weak: true)\n" if number else ""
    return (
        f"{begin}#set page(width: {width:g}mm, height: {height:g}mm, margin: 0pt)\n"
        f'#image(bytes(sys.inputs.svg{number}), format: "svg", width: 100%)'
    )
