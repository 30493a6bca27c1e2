"""JSON Schemas of what `fill`, `park` and `faults` print."""

from __future__ import annotations

from plumbing.findings import Severity
from plumbing.report.schema_parts import (
    FIGURE,
    FLAG,
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

FILL, PARK, FAULTS = "plumbing-fill/1", "plumbing-park/1", "plumbing-faults/1"
POINT: Schema = {"type": "array", "items": REAL, "minItems": 3, "maxItems": 3}
WORDS = listed(WORD)
BOOKS: Schema = record(
    start_m3=POSITIVE, pushed_in_m3=POSITIVE, left_m3=by_name(REAL), taken_m3=REAL,
    lost_overboard_m3=by_name(REAL),
)  # fmt: skip
SAFE_FLOW: Schema = record(highest_m3_s=SOME, tank=TEXT, why_not=TEXT)


def fill_schema() -> Schema:
    """Schema of what `plumbing fill --format json` prints."""
    drained = record(
        place=WORD, pitch_rad=REAL, roll_rad=REAL, sucked=FLAG, flow_m3_s=REAL, why_not=TEXT,
        duration_s=POSITIVE,
        books=BOOKS, suction_Pa=by_name(REAL), flat=WORDS, flat_vent_closed_m3=by_name(REAL),
        left_share=POSITIVE,
    )  # fmt: skip
    return whole(
        "Filling and draining of a fuel system",
        format={"const": FILL},
        filling=by_name(filled_schema()),
        draining=by_name(drained),
        not_computed=by_name(TEXT),
        partial=FLAG,
    )


def filled_schema() -> Schema:
    """Schema of filling through one port."""
    tank = record(
        tank=WORD, begins_s=SOME, full_s=SOME, holds_m3=REAL, trapped_m3=REAL,
        pressure_before_Pa=REAL, pressure_Pa=REAL, gas_Pa=REAL, rated_Pa=SOME,
    )  # fmt: skip
    return record(
        port=WORD,
        flow_m3_s=REAL,
        flow_assumed=FLAG,
        why_not=TEXT,
        full_s=POSITIVE,
        time_s=listed(POSITIVE),
        pushed_in_m3=listed(REAL),
        volume_m3=by_name(listed(REAL)),
        tanks=by_name(tank),
        missed=by_name(TEXT),
        books=BOOKS,
        spills=listed(record(outlet=WORD, first_s=POSITIVE, flow_m3_s=REAL, filling=WORDS)),
        port_pressure_Pa=REAL,
        pump_limits_m3_s=SOME,
        closed_pressure_Pa=SOME,
        safe_flow=nullable(SAFE_FLOW),
        reversed_filters=WORDS,
        reversed_pickups=WORDS,
        pushed_to_engines=listed(record(engine=WORD, pump=WORD, pressure_Pa=REAL, volume_m3=SOME)),
    )


def park_schema() -> Schema:
    """Schema of what `plumbing park --format json` prints."""
    maps = listed(listed(REAL))
    around = record(
        pitch_rad=listed(REAL), roll_rad=listed(REAL), over_engine_m=maps,
    )  # fmt: skip
    return whole(
        "Parking and transport of a fuel system",
        format={"const": PARK},
        attitudes=by_name(_parked()),
        around_level=around,
        vents=_vents(),
        not_computed=by_name(TEXT),
    )


def _parked() -> Schema:
    way = record(
        tank=WORD, outlet=WORD, lines=WORDS,
        state={"enum": ["dry", "above", "runs", "siphons", "held", "capped"]},
        head_m=REAL, rise_m=REAL,
    )  # fmt: skip
    lost = record(rate_m3_s=REAL, meanwhile_m3=REAL, in_the_end_m3=REAL, time_s=POSITIVE)
    engine = record(
        engine=WORD, pump=TEXT, tank=TEXT, over_engine_m=REAL, over_pump_m=REAL, shut=WORDS,
        open_rate_m3_s=SOME, leaked_m3=SOME,
    )  # fmt: skip
    warmed = record(
        from_degC=REAL, to_degC=REAL, grown_m3=REAL, share=REAL, spilt_m3=REAL,
        capped_pressure_Pa=by_name(REAL), brim_full=WORDS, over_rated_Pa=by_name(REAL),
    )  # fmt: skip
    return record(
        name=WORD,
        kind={"enum": ["parked", "transport"]},
        pitch_rad=REAL,
        roll_rad=REAL,
        duration_s=POSITIVE,
        fuel_m3=by_name(REAL),
        capped=FLAG,
        ways=listed(way),
        full=WORDS,
        lost=by_name(lost),
        moved_m3=by_name(REAL),
        books=BOOKS,
        final=BOOKS,
        lasts_s=POSITIVE,
        engines=listed(engine),
        warmed=warmed,
    )


def _vents() -> Schema:
    way = record(
        tank=WORD, outlet=WORD, lines=WORDS, bore_m=POSITIVE, highs_m=listed(POINT),
        lows_m=listed(POINT), sags_m=by_name(REAL), low_at_m=nullable(POINT), slug_Pa=REAL,
        slug_when=TEXT, slug_level_Pa=REAL,
    )  # fmt: skip
    return record(
        airspeed_m_s=REAL,
        ways=listed(way),
        pressures=listed(record(outlet=WORD, pressure=FIGURE, stated=FLAG)),
        unknown=WORDS,
        uneven=listed(record(outlets=WORDS, difference=FIGURE)),
    )


def faults_schema() -> Schema:
    """Schema of what `plumbing faults --format json` prints."""
    fault = record(
        kind=WORD,
        part=TEXT,
        what=WORD,
        noticed=TEXT,
        severity={"enum": [*(one.value for one in Severity), None]},
        does=TEXT,
        phase=TEXT,
        stops_s=by_name(SOME),
        first_air_s=by_name(SOME),
        folds_s=by_name(SOME),
        suction_Pa=by_name(REAL),
        suction_change_Pa=SOME,
        tank_suction_Pa=by_name(REAL),
        stranded_m3=REAL,
        short_m3=REAL,
    )
    return whole(
        "Every single fault of a fuel system in flight",
        format={"const": FAULTS},
        flight=TEXT,
        assumed=FLAG,
        duration_s=POSITIVE,
        take_off_s=SOME,
        dry_without_a_fault_s=by_name(SOME),
        faults=listed(fault),
        not_computed=listed(record(kind=WORD, part=TEXT, what=WORD, reason=WORD)),
        partial=FLAG,
    )
