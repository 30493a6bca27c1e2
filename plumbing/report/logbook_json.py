"""The logbook as JSON, and its schema."""

from __future__ import annotations

from plumbing.model.layout import Layout
from plumbing.report.json_text import json_text
from plumbing.report.keyed import keyed
from plumbing.report.schema_parts import (
    FIGURE,
    FLAG,
    NATURAL,
    POSITIVE,
    REAL,
    SOME,
    TEXT,
    WORD,
    Schema,
    by_name,
    listed,
    nullable,
    record,
    whole,
)
from plumbing.report.words import reasons
from plumbing.results import NotComputed
from plumbing.studies.logbook import Logged

LOGBOOK = "plumbing-logbook/1"


def logbook_schema() -> Schema:
    """Schema of what `plumbing logbook --format json` prints."""
    words, figure = nullable(TEXT), nullable(FIGURE)
    row = record(
        line=NATURAL, date=WORD, kind=WORD, part=words, filled_m3=SOME, left_m3=SOME,
        header_air_m3=SOME, volts=SOME, duty=SOME, time_s=SOME, temperature_degC=SOME, by=words,
        remarks=words,
    )  # fmt: skip
    burn = record(
        flights=NATURAL, flow=FIGURE, most_m3_s=REAL, predicted_m3_s=REAL, in_use_s=POSITIVE,
        timer=FIGURE, to_set_s=POSITIVE, left=FIGURE, reserve_m3=POSITIVE,
    )  # fmt: skip
    line = record(slope=REAL, band=REAL, start=REAL, end=REAL, end_band=REAL, certain=FLAG)
    trend = record(
        what=WORD, part=TEXT, since=WORD, hours=listed(REAL), values=listed(REAL), now=FIGURE,
        line=nullable(line), least=SOME, most=SOME, beyond=FLAG, hours_left=SOME,
    )  # fmt: skip
    job = record(part=WORD, what=WORD, every_s=POSITIVE, age_s=SOME, rule=TEXT)
    due = record(
        job=job, done=WORD, logged=FLAG, on=WORD, time_s=POSITIVE, fuel_m3=POSITIVE,
        use=nullable(record(time_s=POSITIVE, fuel_m3=POSITIVE)), overdue=FLAG,
    )  # fmt: skip
    finding = record(
        severity=WORD, part=TEXT, what=WORD, measured=figure, allowed=figure, advice=TEXT
    )
    return whole(
        "What the logbook tells",
        format={"const": LOGBOOK},
        title=TEXT,
        file=TEXT,
        logbook=words,
        today=words,
        hours=SOME,
        rows=listed(row),
        burn=nullable(burn),
        trends=listed(trend),
        due=listed(due),
        findings=listed(finding),
        not_computed=by_name(TEXT),
    )


def logbook_json(layout: Layout, found: Logged | NotComputed) -> str:
    """Write what a logbook tells as JSON, values in SI with their unit."""
    head = {"title": layout.title, "file": layout.place.file}
    if isinstance(found, NotComputed):
        nothing: dict[str, object] = {
            "logbook": None,
            "today": None,
            "hours": None,
            "rows": [],
            "burn": None,
        }
        empty = {"trends": [], "due": [], "findings": [], "not_computed": reasons([found])}
        return json_text(keyed({**head, **nothing, **empty}, logbook_schema()))
    missing = [found.burn] if isinstance(found.burn, NotComputed) else []
    data = {
        **head,
        "logbook": found.file,
        "today": found.today.isoformat(),
        "hours": found.hours,
        "rows": found.entries,
        "burn": found.burn,
        "trends": found.trends,
        "due": found.due,
        "findings": found.findings,
        "not_computed": reasons(missing),
    }
    return json_text(keyed(data, logbook_schema()))
