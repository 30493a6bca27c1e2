"""From the data to PDF: the template is ours, everything from the layout goes in as strings."""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory
from types import MappingProxyType
from typing import Any, Literal

from plumbing.drawing.export import FONTS
from plumbing.drawing.palette import SEVERITY, STROKES
from plumbing.drawing.sheet import MARK
from plumbing.errors import UsageError
from plumbing.report.dossier.contents import contents
from plumbing.report.sheets.photos import photos_of
from plumbing.report.subject import Subject

PAPERS = {"a4": "a4", "letter": "us-letter"}
_MAIN = "main.typ"
_NO_GLYPH = "could not be displayed with font"  # forbidden by PDF/A: a name in another script
_TEMPLATES = ("style.typ", "sheets.typ", "cards.typ", "dossier.typ")


def dossier(subject: Subject, paper: str = "a4") -> bytes:
    """Typeset the dossier.

    Parameters
    ----------
    subject : Subject
        What it is about.
    paper : {"a4", "letter"}
        Paper size.

    Returns
    -------
    bytes
        A PDF with outline and embedded fonts: PDF/A-2a, or PDF/UA-1 where it bears no day; neither
        where a text has signs that the font lacks.

    Raises
    ------
    UsageError
        There is no such paper.
    """
    if paper not in PAPERS:
        raise UsageError(f"there is no paper `{paper}`; there are: {', '.join(PAPERS)}")
    data = contents(subject, paper)
    shown = photos_of(subject.examined.case.layout)
    pairs = zip(data["photos"], shown, strict=True)
    pictures = {one["file"]: photo.content for one, photo in pairs}
    made = typeset(data, paper, pictures=pictures)
    if not isinstance(made, bytes):
        raise UsageError("the dossier could not be typeset")
    return made


def typeset(
    data: dict[str, Any],
    paper: str,
    form: Literal["pdf", "png"] = "pdf",
    pictures: Mapping[str, bytes] = MappingProxyType({}),
) -> bytes | list[bytes]:
    """Typeset data with its pictures by file name as PDF, or as a picture a page to be seen."""
    import typst  # loads the typesetter; only the dossier needs it

    whole = {
        **data,
        "paper": PAPERS[paper],
        "mark": MARK,
        "colours": SEVERITY,
        "roles": {role: stroke.colour for role, stroke in STROKES.items()},
    }
    folder = files("plumbing.report.dossier").joinpath("templates")
    source = "\n".join(folder.joinpath(name).read_text("utf-8") for name in _TEMPLATES)
    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(FONTS)])
    with TemporaryDirectory() as place:  # the typesetter takes pictures from files alone
        for name, content in {_MAIN: source.encode(), **pictures}.items():
            Path(place, name).write_bytes(content)

        def compiled(standard: Literal["a-2a", "ua-1"] | None) -> bytes | list[bytes]:
            made: bytes | list[bytes] = typst.compile(
                str(Path(place, _MAIN)),
                root=place,
                format=form,
                ppi=100.0,
                pdf_standards=standard,
                font_paths=fonts,
                sys_inputs={"data": json.dumps(whole, ensure_ascii=False, allow_nan=False)},
            )
            return made

        try:
            return compiled(_standard(data) if form == "pdf" else None)
        except typst.TypstError as refused:
            if _NO_GLYPH not in str(refused):
                raise
            return compiled(None)


def _standard(data: dict[str, Any]) -> Literal["a-2a", "ua-1"]:
    """Fit to be kept and read aloud (PDF/A), which asks for a day; else read aloud (PDF/UA)."""
    return "ua-1" if data["day"] is None else "a-2a"
