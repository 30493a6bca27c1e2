"""What stands in the dossier, as plain data for its template."""

from __future__ import annotations

from typing import Any

from plumbing.checks.limits import limits_in_force
from plumbing.checks.pass_marks import pass_marks
from plumbing.drawing.diagram import schematic
from plumbing.drawing.elevations import elevation
from plumbing.drawing.export import paper_size
from plumbing.errors import UsageError
from plumbing.report.cards.bench import Card, bench_cards, trapped
from plumbing.report.cards.care import care
from plumbing.report.cards.certificate import certificate, questions
from plumbing.report.cards.first_run import first_run
from plumbing.report.cards.flight_line import (
    flags,
    if_it_goes_wrong,
    placards,
    post_flight,
    pre_flight,
)
from plumbing.report.cards.form import Form
from plumbing.report.cards.opening_up import fuel_log, opening_up
from plumbing.report.dossier.tables import text, typeset
from plumbing.report.grouped import Noted, SeverityGroup, findings_of
from plumbing.report.html.figures import flight_charts, logged_charts, stairs
from plumbing.report.schedules import schedules
from plumbing.report.schedules.table import Table
from plumbing.report.sheets import peaks
from plumbing.report.sheets.balances import balance
from plumbing.report.sheets.broken import broken_sheets
from plumbing.report.sheets.flown import books, endurance, tanks
from plumbing.report.sheets.ground import ground_sheets
from plumbing.report.sheets.logbook import logbook_sheets
from plumbing.report.sheets.missing import missing
from plumbing.report.sheets.photos import photos_of, sign_offs
from plumbing.report.sheets.revision import revision
from plumbing.report.sheets.sources import sources
from plumbing.report.sheets.stages import stages, verdicts
from plumbing.report.sheets.tank_sheet import tank_sheets
from plumbing.report.subject import Subject
from plumbing.report.words import CAUTION, version
from plumbing.results import NotComputed, known
from plumbing.studies.bench import Predictions, predict, readings

JOB = (
    "The fuel system was read from the layout file named above and modelled as a network of "
    "tanks, lines and parts. Flow and pressure were solved at full flow over fuel temperature, "
    "load factor and filter state; the stated flight was flown moment by moment; filling, "
    "drain-down and parking were computed with the same network.",
    "Losses follow published laws for smooth round tube, bends, fittings and filters, with a band "
    "for their tolerances. A value whose band crosses its limit is not certain.",
    "Not modelled: waves within a tank (only its first swing, where the file switches slosh on), "
    "walls that flex (bags do fold), tubes that collapse, fuel and air that mix to foam, wear, "
    "dirt beyond the stated drops, and anything the file does not say. "
    "Gas is taken as incompressible at these small pressures, but in tanks without an open outlet.",
    "Figures are computed; what was measured stands under Stages and evidence. Every figure that "
    "matters for safety has a box for the measured value: the bench decides, not this paper.",
)


def contents(subject: Subject, paper: str = "a4") -> dict[str, Any]:
    """Gather everything the template sets."""
    case = subject.examined.case
    layout = case.layout
    predicted = predict(
        layout,
        case.survey,
        case.peak,
        parkings=case.parking,
        fillings=case.filling,
    )
    return {
        "title": text(layout.title) or "untitled",
        "file": text(subject.file),
        "digest": subject.digest,
        "name": subject.file,
        "date": text(subject.date),
        "day": None if subject.day is None else list(subject.day.timetuple()[:3]),
        "version": version(),
        "origin": text(layout.origin),
        "notes": text(layout.notes),
        "category": text(layout.aircraft.category or ""),
        "verdict": subject.verdict(),
        "worst": subject.mark,
        "summary": subject.summary(),
        "verdicts": typeset(verdicts(subject)),
        "stages": [typeset(one) for one in stages(subject)[1:]],
        "taken_on": [text(words) for words in subject.taken_on()],
        "job": JOB,
        "caution": CAUTION,
        "findings": [_group(group) for group in findings_of(subject)],
        "revision": [typeset(one) for one in revision(subject.since)],
        "drawings": _drawings(subject, paper),
        "charts": [{"title": one.title, "svg": one.svg} for one in flight_charts(case)],
        "stairs": [{"title": one.title, "svg": one.svg} for one in stairs(case)],
        "peak": [typeset(one) for one in _peak(subject)],
        "flight": [typeset(one) for one in _flight(subject)],
        "ground": [typeset(one) for one in ground_sheets(case)],
        "faults": [typeset(one) for one in broken_sheets(case.faults)],
        "schedules": [typeset(one) for one in schedules(layout, case.survey)],
        "tanks": [typeset(one) for one in tank_sheets(case)],
        "logbook": [typeset(one) for one in logbook_sheets(subject.logbook)],
        "logged": [{"title": one.title, "svg": one.svg} for one in logged_charts(subject.logbook)],
        "photos": [
            {"file": f"photo-{number}.{one.kind}", "caption": text(one.caption)}
            for number, one in enumerate(photos_of(layout), start=1)
        ],
        "signed": [[one.stage, one.words, text(one.photos)] for one in sign_offs(layout)],
        "cards": _cards(subject, predicted),
        "forms": _forms(subject),
        "lacking": [
            [text(name), text("; ".join(all_))] for name, all_ in subject.lacking().items()
        ],
        "clear": list(subject.examined.verdict.clear),
        "assumed": [
            [text(source), [[text(what), text(value)] for what, value in values]]
            for source, values in subject.assumed().items()
        ],
        "sources": typeset(sources(subject)),
    }


def _group(group: SeverityGroup) -> dict[str, Any]:
    """Causes of one severity."""
    return {
        "severity": group.severity,
        "meaning": group.meaning,
        "causes": [
            {
                "number": one.cause.number,
                "check": text(one.cause.finding.check),
                "notes": [_note(note) for note in one.notes],
                "sure": one.cause.sure,
                "follows": [text(words) for words in one.follows],
                "why": [text(words) for words in one.why if words],
                "cure": [text(words) for words in one.advice if words],
                "rule": [text(words) for words in one.source if words],
            }
            for one in group.causes
        ],
    }


def _note(note: Noted) -> dict[str, Any]:
    finding = note.finding
    return {
        "part": text(finding.part) or "whole layout",
        "line": finding.place.line,
        "what": text(finding.what),
        "measured": note.measured,
        "doubt": text(finding.doubt),
        "remedies": [
            [text(one.change), text(one.buys), text(one.costs)] for one in finding.remedies
        ],
    }


def _drawings(subject: Subject, paper: str) -> list[dict[str, str | float]]:
    case, causes = subject.examined.case, subject.examined.causes
    date, surfaces = subject.date, subject.reserve_surfaces()
    drawn: list[dict[str, str | float]] = [
        {"title": "Schematic", "svg": schematic(case.layout, case.survey, causes, date=date)}
    ]
    for view, title in (("plan", "Plan"), ("side", "Side elevation"), ("front", "Cross view")):
        try:
            svg = elevation(
                case.layout, case.survey, view, causes, surfaces=surfaces, date=date, paper=paper
            )
        except UsageError as why:
            drawn.append({"title": title, "missing": text(str(why))})
            continue
        width, height = paper_size(svg)
        drawn.append({"title": title, "svg": svg, "width": width, "height": height})
    return drawn


def _peak(subject: Subject) -> list[Table]:
    peak = subject.examined.case.peak
    sheets = missing(peak.missing)
    if peak.engines:
        sheets += [peaks.suctions(peak), peaks.facts(peak)]
    for engine in peak.engines.values():
        limits = limits_in_force(subject.examined.case.layout)
        sheets += [
            peaks.drops(engine, limits),
            *([peaks.delivery(engine)] if engine.delivery else []),
        ]
    return sheets


def _flight(subject: Subject) -> list[Table]:
    case = subject.examined.case
    flown = case.flight
    sheets = missing([flown]) if isinstance(flown, NotComputed) else [tanks(flown)]
    balanced = balance(case)
    sheets += [balanced] if balanced is not None else []
    return sheets + ([books(flown), endurance(flown)] if known(flown) else [])


def _cards(subject: Subject, predicted: Predictions) -> dict[str, Any]:
    case = subject.examined.case
    layout = case.layout
    return {
        "bench": [
            _card(one)
            for one in bench_cards(readings(predicted, pass_marks(case)), layout.measured.values())
        ],
        "missing": [typeset(one) for one in missing(predicted.missing)],
        "order": [text(name) for name, _ in predicted.run.order] if known(predicted.run) else [],
        "trapped": [[text(name), volume] for name, volume in trapped(predicted)],
        "pre": [[text(words), unit] for words, unit in pre_flight(layout, case.flight)],
        "post": [[text(words), unit] for words, unit in post_flight(layout)],
        "wrong": [[seen, text(done)] for seen, done in if_it_goes_wrong(layout)],
        "asked": [[asked, text(said)] for asked, said in questions(layout, case.flight)],
        "placards": [[text(one.words), text(one.more)] for one in placards(layout)],
        "flags": [
            [text(one.words), text(one.more), one.role] for one in flags(layout, case.survey)
        ],
    }


def _card(card: Card) -> dict[str, Any]:
    return {
        "number": card.number,
        "title": card.title,
        "purpose": card.purpose,
        "hands": list(card.hands),
        "fuel": card.fuel,
        "setup": card.setup,
        "steps": list(card.steps),
        "seen": card.seen,
        "fails": card.fails,
        "rows": [
            [
                text(one.words),
                one.expected,
                one.band,
                one.limit,
                one.rule,
                text(one.how),
                one.read,
                one.passed,
            ]
            for one in card.rows
        ],
        "signed": [text(words) for words in card.signed],
        "reaches": any(one.reaches for one in card.rows),
    }


def _forms(subject: Subject) -> list[dict[str, Any]]:
    case = subject.examined.case
    layout, flight = case.layout, case.flight
    forms = (
        first_run(layout, case.peak),
        opening_up(flight),
        fuel_log(),
        care(layout, flight, limits_in_force(layout)),
        certificate(layout),
    )
    return [_form(one) for one in forms]


def _form(form: Form) -> dict[str, Any]:
    return {
        "title": form.title,
        "cautions": list(form.cautions),
        "steps": list(form.steps),
        "heads": list(form.heads),
        "rows": [[text(cell) for cell in row] for row in form.rows],
        "notes": [text(note) for note in form.notes],
        "wide": form.wide,
    }
