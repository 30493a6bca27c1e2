"""The page: gathered, then laid out by a template that escapes everything."""

from __future__ import annotations

import base64
import hashlib
import json
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from plumbing.drawing.glb import glb
from plumbing.drawing.inset import elevation_inset, schematic_inset
from plumbing.drawing.palette import SEVERITY
from plumbing.drawing.sheet import MARK
from plumbing.drawing.spatial import Shown, insides, solids
from plumbing.drawing.text import clean
from plumbing.errors import Fault, UsageError
from plumbing.layout.forms import Choice, Number, fields_of
from plumbing.model.logbook import Entry
from plumbing.network import Survey
from plumbing.report.grouped import findings_of
from plumbing.report.html.contents import charts_of, tables_of, tiles
from plumbing.report.html.moments import moments
from plumbing.report.schedules.table import Table
from plumbing.report.sheets.photos import photos_of
from plumbing.report.subject import Subject
from plumbing.report.words import CAUTION, MEANING, shown, version
from plumbing.results import known
from plumbing.units import KINDS

if TYPE_CHECKING:
    from jinja2 import Environment

_STYLES = ("base.css", "drawings.css", "findings.css", "tables.css", "print.css")
_SCRIPTS = (
    "start.js",
    "drawings.js",
    "space.js",
    "findings.js",
    "surface.js",
    "flight.js",
    "tables.js",
)
_VIEWS = {"plan": "Plan", "side": "Side", "front": "Cross view"}


def html_page(subject: Subject, live: str = "", token: str = "") -> str:
    """Write the report as one page.

    Parameters
    ----------
    subject : Subject
        What it is about.
    live : str
        Number of the state it shows, if it is to listen for later ones; only the live server
        wants that.
    token : str
        What the form of the logbook shows to that server.

    Returns
    -------
    str
        An HTML document without references to anything outside it.
    """
    case = subject.examined.case
    figures = _drawings(subject)
    drawn = "".join(one["svg"] for one in figures)
    context = {
        "title": clean(case.layout.title) or "untitled",
        "subject": subject,
        "summary": subject.summary(),
        "due": subject.due(),
        "taken_on": subject.taken_on(),
        "verdict": subject.verdict(),
        "worst": subject.mark,
        "figures": figures,
        "solid": _solid(subject),
        "insides": _insides(subject),
        "groups": findings_of(subject, drawn),
        "counts": [(str(one), number, MEANING[one]) for one, number in subject.counts()],
        "tiles": tiles(subject),
        "charts": charts_of(subject),
        "sections": tables_of(subject),
        "photos": [
            {
                "caption": one.caption,
                "data": f"data:{one.mime};base64,{base64.b64encode(one.content).decode()}",
            }
            for one in photos_of(case.layout)
        ],
        "lacking": subject.lacking(),
        "assumed": subject.assumed(),
        "clear": subject.examined.verdict.clear,
        "caution": CAUTION,
        "data": _data(subject),
        "version": version(),
    }
    return _rendered("page.html", live, token, context)


def faults_page(
    title: str, faults: tuple[Fault, ...], words: str = "", live: str = "0", token: str = ""
) -> str:
    """Page of the live view while there is no good drawing yet.

    Parameters
    ----------
    title : str
        Name of the file.
    faults : tuple of Fault
        What is wrong in it.
    words : str
        Any other reason.
    live : str
        Number of the state it shows.
    token : str
        What the form of the logbook shows to the live server.
    """
    context = {"title": clean(title), "faults": faults, "words": words, "worst": "unsafe"}
    return _rendered("faults.html", live, token, context)


def _rendered(name: str, live: str, token: str, context: dict[str, Any]) -> str:
    scripts = (*_SCRIPTS, "live.js", "logbook.js") if live else _SCRIPTS
    style, script = _joined(_STYLES), _script(scripts)
    policy = (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; "
        f"img-src data:; base-uri 'none'; form-action 'none'"
        + ("; connect-src 'self'" if live else "")
    )
    rendered: str = (
        _environment()
        .get_template(name)
        .render(
            **context,
            live=live,
            token=token,
            logbook=_row_fields() if live else (),
            style=style,
            script=script,
            policy=policy,
            colours=SEVERITY,
            mark=MARK,
        )
    )
    return rendered


def _row_fields() -> list[dict[str, Any]]:
    """What the form of the logbook asks for: key, words, choices, an example."""
    return [
        {
            "key": key,
            "words": field.doc,
            "choices": field.form.words if isinstance(field.form, Choice) else (),
            "example": KINDS[field.form.quantity.kind].example
            if isinstance(field.form, Number)
            else "",
            "needed": field.required,
        }
        for key, field in fields_of(Entry).items()
    ]


def _digest(text: str) -> str:
    """Digest of an inline element's text, as a content security policy writes it."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


@cache
def _joined(names: tuple[str, ...]) -> str:
    folder = files("plumbing.report.html").joinpath("assets")
    return "\n".join(folder.joinpath(name).read_text("utf-8").strip() for name in names)


def _script(names: tuple[str, ...]) -> str:
    return '(function () {\n"use strict";\n' + _joined(names) + "\nstart();\n})();"


@cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    made = Environment(
        loader=PackageLoader("plumbing.report.html", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["shown"] = shown
    made.globals["column_is_number"] = _is_number
    made.filters["clean"] = clean
    return made


def _is_number(table: Table, column: int) -> bool:
    """Whether a column holds numbers."""
    return any(isinstance(row[column], float) for row in table.rows)


def _drawings(subject: Subject) -> list[dict[str, str]]:
    case, causes = subject.examined.case, subject.examined.causes
    figures = [
        {
            "key": "schematic",
            "name": "Schematic",
            "words": "Not to scale. Lines with number, tube (outside x inside, mm) and length "
            "(mm); numbers in tanks: order in which they empty.",
            "svg": schematic_inset(case.layout, case.survey, causes, "s-"),
        }
    ]
    for key, name in _VIEWS.items():
        svg = _elevation(case.survey, subject, key)
        if svg:
            words = "To scale, in millimetres from the origin of the file."
            figures.append({"key": key, "name": name, "words": words, "svg": svg})
    return figures


def _elevation(survey: Survey, subject: Subject, key: str) -> str:
    """A view to scale, or nothing where the layout is too large for one."""
    case = subject.examined.case
    try:
        causes, surfaces = subject.examined.causes, subject.reserve_surfaces()
        return elevation_inset(case.layout, survey, key, causes, surfaces, f"{key}-")
    except UsageError:
        return ""


def _solid(subject: Subject) -> str:
    """The aircraft in space as glTF in base 64, or nothing where it is too much for a model."""
    case = subject.examined.case
    try:
        return _model(subject, solids(case.layout, case.survey))
    except UsageError:
        return ""


def _insides(subject: Subject) -> str:
    """The rooms of the tanks for the fuel in them, likewise; nothing without a flight."""
    case = subject.examined.case
    if not known(case.flight):
        return ""
    return _model(subject, insides(case.layout, case.flight.history.tankage))


def _model(subject: Subject, shown: tuple[Shown, ...]) -> str:
    """Solids as glTF in base 64."""
    return base64.b64encode(glb(shown, subject.examined.case.layout.title)).decode()


def _data(subject: Subject) -> str:
    """Data for the scripts as JSON that cannot end its element."""
    case = subject.examined.case
    joined: dict[str, list[str]] = {}
    for line in case.layout.lines.values():
        for port in (line.from_, line.to):
            joined.setdefault(clean(port.partition(".")[0]), []).append(clean(line.name))
    data = {"joined": joined, "flight": moments(case.layout, case.flight)}
    text = json.dumps(data, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    for char, code in (("<", "\\u003c"), (">", "\\u003e"), ("&", "\\u0026")):
        text = text.replace(char, code)
    return text
