"""JSON Schemas of what `tilt`, `spread` and `asbuilt` print."""

from __future__ import annotations

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

TILT, SPREAD, ASBUILT = "plumbing-tilt/1", "plumbing-spread/1", "plumbing-asbuilt/1"
WORDS = listed(WORD)
SHARE: Schema = {"type": "number", "minimum": 0, "maximum": 1}
SPREAD_OF_ONE = record(
    what=WORD, part=TEXT, unit=TEXT, p5=REAL, p50=REAL, p95=REAL, error_of_p50=POSITIVE,
    drivers=by_name(SHARE), explained=REAL, sobol=by_name(record(first=REAL, total=REAL)),
)  # fmt: skip


def tilt_schema() -> Schema:
    """Schema of what `plumbing tilt --format json` prints."""
    worst = record(
        where=WORD, parked=FLAG, pitch_rad=REAL, roll_rad=REAL, seconds=SOME, unusable_m3=REAL,
        share=REAL,
    )  # fmt: skip
    shown = {
        "capacity_m3": REAL, "level_m3": REAL, "unusable_m3": listed(listed(REAL)),
        "worst": listed(worst),
    }  # fmt: skip
    return whole(
        "Unusable fuel over pitch and roll",
        format={"const": TILT},
        title=TEXT,
        file=TEXT,
        flights=listed(TEXT),
        flights_assumed=FLAG,
        pitch_rad=listed(REAL),
        roll_rad=listed(REAL),
        all=record(**shown),
        tanks=by_name(record(ports=WORDS, **shown)),
        without_feed=WORDS,
    )


def spread_schema() -> Schema:
    """Schema of what `plumbing spread --format json` prints."""
    return whole(
        "What the tolerances make of a fuel system",
        format={"const": SPREAD},
        title=TEXT,
        file=TEXT,
        samples=NATURAL,
        seed=NATURAL,
        flight=nullable(WORD),
        largest_error=POSITIVE,
        asked_error=POSITIVE,
        converged=FLAG,
        method=TEXT,
        chances=listed(record(check=WORD, part=TEXT, chance=SHARE, error=POSITIVE)),
        spreads=listed(SPREAD_OF_ONE),
        not_computed=by_name(TEXT),
        partial=FLAG,
    )


def asbuilt_schema() -> Schema:
    """Schema of what `plumbing asbuilt --format json` prints."""
    words, figure = nullable(TEXT), nullable(FIGURE)
    moved = record(what=WORD, part=TEXT, state=TEXT, before=FIGURE, after=FIGURE, beyond=FLAG)
    measured = record(
        name=WORD, what=WORD, part=words, on=words, line=NATURAL, measured=figure,
        expected=figure, conditions=words, verdict=WORD, suspects=words, fitted=words,
        fitted_value=figure, not_computed=by_name(TEXT), state=words, by=words,
        instrument=words, limit=words, rule=words, passes=nullable(FLAG), moved=listed(moved),
    )  # fmt: skip
    return whole(
        "Measured beside predicted",
        format={"const": ASBUILT},
        title=TEXT,
        file=TEXT,
        measured=listed(measured),
    )
