"""The evidence of a layout: what was done or measured, when, by whom, with what."""

from __future__ import annotations

from plumbing.checks.evidence import Proof
from plumbing.checks.examined import Examined
from plumbing.frozen import frozen
from plumbing.layout.stated import stated
from plumbing.model.measured import MEASURES, Measured
from plumbing.units import show


@frozen
class Evidence:
    """One statement and what stands behind it; texts, empty where nothing is said."""

    statement: str
    state: str
    value: str = ""
    on: str = ""
    by: str = ""
    instrument: str = ""
    note: str = ""
    photo: str = ""


def evidence(examined: Examined) -> tuple[Evidence, ...]:
    """Statements of the file that are more than open, then those that bench readings prove."""
    said = (
        Evidence(
            path,
            one.state,
            one.value,
            one.on,
            one.by,
            one.instrument,
            one.note,
            one.photo,
        )
        for path, one in stated(examined.case.layout).items()
    )
    return (*said, *(_proven(one) for one in examined.verdict.proven))


def _proven(proof: Proof) -> Evidence:
    """The readings in a row; what they have in common once."""
    on, by, instrument = (
        ", ".join(dict.fromkeys(str(getattr(one, name)) for one in proof.readings))
        for name in ("on", "by", "instrument")
    )
    value = ", ".join(map(_shown, proof.readings)) if len(proof.readings) < 4 else ""
    note = "" if value else f"{len(proof.readings)} readings on the bench cards"
    return Evidence(proof.statement, "measured", value, on, by, instrument, note)


def _shown(reading: Measured) -> str:
    kind = MEASURES[reading.what]
    return show(getattr(reading, kind), kind)
