"""From the data to PDF: the template is ours, everything from the layout goes in as strings."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any, Literal

from plumbing.drawing.export import FONTS
from plumbing.drawing.palette import SEVERITY, STROKES
from plumbing.drawing.sheet import MARK
from plumbing.errors import UsageError
from plumbing.report.dossier.contents import contents
from plumbing.report.subject import Subject

PAPERS = {"a4": "a4", "letter": "us-letter"}
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
        A PDF with outline and embedded fonts.

    Raises
    ------
    UsageError
        There is no such paper.
    """
    if paper not in PAPERS:
        raise UsageError(f"there is no paper `{paper}`; there are: {', '.join(PAPERS)}")
    made = typeset(contents(subject, paper), paper)
    if not isinstance(made, bytes):
        raise UsageError("the dossier could not be typeset")
    return made


def typeset(
    data: dict[str, Any], paper: str, form: Literal["pdf", "png"] = "pdf"
) -> bytes | list[bytes]:
    """Typeset data as PDF, or as a picture a page to be looked at."""
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
    made: bytes | list[bytes] = typst.compile(
        source.encode(),
        format=form,
        ppi=100.0,
        font_paths=fonts,
        sys_inputs={"data": json.dumps(whole, ensure_ascii=False, allow_nan=False)},
    )
    return made
