"""JSON Schemas (2020-12) of the results that machines read; a change of them changes the version.

Keys may be added within a version; none is renamed, removed or given another unit.
"""

from __future__ import annotations

from plumbing.findings import Severity
from plumbing.report.measure_text import MEASURE
from plumbing.report.schema_parts import (
    DIALECT,
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
    figure,
    listed,
    nullable,
    record,
)
from plumbing.stage import STAGES

CHECK, COMPARE, FLIGHT = "plumbing-check/1", "plumbing-compare/1", "plumbing-flight/1"


def check_schema() -> Schema:
    """Schema of what `plumbing check --format json` prints."""
    return {
        "$schema": DIALECT,
        "title": "Check of a fuel system",
        "description": "Findings and results; every value in SI with its unit beside it",
        **record(
            format={"const": CHECK},
            title=TEXT,
            file=TEXT,
            findings=listed(_finding()),
            causes=listed(_cause()),
            unchecked=listed(record(check=WORD, missing=TEXT, why=TEXT, part=TEXT, line=NATURAL)),
            clear=listed(WORD),
            stage={"enum": list(STAGES)},
            due=listed(_due()),
            evidence=listed(
                record(
                    statement=WORD,
                    state=WORD,
                    value=TEXT,
                    on=TEXT,
                    by=TEXT,
                    instrument=TEXT,
                    note=TEXT,
                    photo=TEXT,
                )
            ),
            questions=listed(record(finding=_finding(), usual=FLAG, measure=listed(WORD))),
            measure=listed(MEASURE),
            accepted=listed(
                record(check=WORD, part=TEXT, what=WORD, reason=TEXT, by=TEXT, on=TEXT)
            ),
            changed_limits=listed(record(check=WORD, limit=WORD, usual=WORD)),
            peak_flow=by_name(_engine()),
            not_computed=by_name(TEXT),
            partial=FLAG,
            flight=nullable(_flight()),
            assumptions=listed(record(what=WORD, value=TEXT, source=WORD)),
        ),
        "$defs": {"figure": figure()},
    }


def compare_schema() -> Schema:
    """Schema of what `plumbing compare --format json` prints."""
    change = record(what=WORD, before=TEXT, after=TEXT)
    return {
        "$schema": DIALECT,
        "title": "Two states of a fuel system",
        "description": "Values, findings and bench tests that changed; values with their unit",
        **record(
            format={"const": COMPARE},
            before=TEXT,
            after=TEXT,
            changes=listed(change),
            gone=listed(_finding()),
            eased=listed(_finding()),
            new=listed(_finding()),
            predictions=listed(change),
            tests=listed(WORD),
        ),
        "$defs": {"figure": figure()},
    }


def flight_schema() -> Schema:
    """Schema of what `plumbing fly --format json` prints."""
    return {
        "$schema": DIALECT,
        "title": "Flight of a fuel system",
        "description": "Result of a flight; every value in SI with the unit in its name",
        **_flight(),
    }


def _flight() -> Schema:
    return record(
        format={"const": FLIGHT},
        flight=WORD,
        assumed=FLAG,
        duration_s=POSITIVE,
        flame_out_s=by_name(SOME),
        air_at_pump=by_name(record(first_s=SOME, at_engine_s=SOME, longest_s=POSITIVE, phase=TEXT)),
        line_to_pump_m3=by_name(POSITIVE),
        line_to_engine_m3=by_name(POSITIVE),
        air_in_header_s=by_name(SOME),
        header_air_m3=by_name(REAL),
        order=listed(record(tank=WORD, empty_after_s=POSITIVE)),
        stranded_m3=by_name(REAL),
        pockets=listed(
            record(
                tank=WORD, volume_m3=POSITIVE, at_m=listed(REAL), ridge_m=POSITIVE, baffled=FLAG
            ),
        ),
        uncovered_s=by_name(POSITIVE),
        uncovered_still_s=by_name(POSITIVE),
        airstream_Pa=by_name(record(least=REAL, most=REAL)),
        books=record(flight=_books(), until_an_engine_stops=_books()),
        stops_first=TEXT,
        on_board_m3=POSITIVE,
        usable_m3=POSITIVE,
        landed_with_m3=POSITIVE,
        reserve_m3=POSITIVE,
        mean_flow_m3_s=POSITIVE,
        endurance_s=POSITIVE,
        to_reserve_s=POSITIVE,
        timer_s=POSITIVE,
    )


def _books() -> Schema:
    return record(
        until_s=REAL,
        on_board_m3=by_name(REAL),
        burnt_m3=by_name(REAL),
        left_m3=by_name(REAL),
        lost=listed(record(outlet=TEXT, phase=TEXT, volume_m3=REAL)),
    )


def _finding() -> Schema:
    return record(
        check=WORD,
        severity={"enum": [one.value for one in Severity]},
        part=TEXT,
        parts=listed(WORD),
        file=TEXT,
        line=NATURAL,
        column=NATURAL,
        what=WORD,
        measured=nullable(FIGURE),
        allowed=nullable(FIGURE),
        uncertain=FLAG,
        source=WORD,
        why=TEXT,
        advice=TEXT,
        remedies=listed(record(change=WORD, buys=TEXT, costs=TEXT)),
    )


def _due() -> Schema:
    return record(
        check=WORD,
        stage={"enum": list(STAGES)},
        statement=WORD,
        state=WORD,
        part=TEXT,
        what=WORD,
        line=NATURAL,
    )


def _cause() -> Schema:
    found = record(check=WORD, severity={"enum": [one.value for one in Severity]}, part=TEXT)
    return record(
        number=NATURAL,
        severity={"enum": [one.value for one in Severity]},
        parts=listed(WORD),
        findings=listed(found),
        follows=listed(found),
        sure=FLAG,
    )


def _engine() -> Schema:
    worst = record(suction=FIGURE, fuel_degC=REAL, load=TEXT, filters=TEXT)
    pair = {"type": "array", "prefixItems": [SOME, SOME], "minItems": 2, "maxItems": 2}
    element = record(
        line=TEXT, part=TEXT, what=TEXT, bore_m=REAL, flow_m3_s=REAL, velocity_m_s=REAL,
        reynolds=REAL, drop=FIGURE, share=REAL,
    )  # fmt: skip
    return record(
        pump=TEXT,
        flow_m3_s=REAL,
        suction=FIGURE,
        coldest=worst,
        loaded=worst,
        dirty=worst,
        elements=listed(element),
        released=FIGURE,
        pump_height_m=REAL,
        header=TEXT,
        header_seconds=REAL,
        tank_pressures=by_name(FIGURE),
        pickup_drops_Pa=by_name(pair),
        filter_drops_Pa=by_name(pair),
        delivery=listed(element),
        head_needed=nullable(FIGURE),
        head_available_Pa=SOME,
        flow_available_m3_s=SOME,
    )
