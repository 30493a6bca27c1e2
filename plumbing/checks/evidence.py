"""Readings on the bench as evidence: what passed, is dated and signed proves a statement."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from plumbing.checks.kit import Case
from plumbing.checks.pass_marks import pass_marks
from plumbing.model.layout import Layout
from plumbing.model.measured import MEASURES, Measured
from plumbing.studies.bench import Mark

_TOLD_APART = 0.05  # of the time: what runs dry within this of another does so with it [-]


@dataclass(frozen=True, slots=True)
class Proof:
    """A statement that readings are evidence for.

    Attributes
    ----------
    statement : str
        Its key path in the layout file.
    readings : tuple of Measured
        What was read.
    """

    statement: str
    readings: tuple[Measured, ...]


def proofs(case: Case) -> tuple[Proof, ...]:
    """Statements that the readings under `measured:` prove.

    Parameters
    ----------
    case : Case
        The layout and its results.

    Raises
    ------
    LayoutError
        The file sets a limit that does not exist.
    """
    signed = [one for one in case.layout.measured.values() if is_signed(one)]
    if not signed:
        return ()
    marks = [mark for mark in pass_marks(case).all if mark.what in MEASURES]
    return tuple(Proof(path, met) for path, met in _by_statement(case.layout, marks, signed) if met)


def is_signed(reading: Measured) -> bool:
    """Whether a reading says when, by whom and with what."""
    return bool(reading.on and reading.by and reading.instrument)


def _by_statement(
    layout: Layout, marks: Sequence[Mark], signed: Sequence[Measured]
) -> Iterator[tuple[str, tuple[Measured, ...]]]:
    """Each statement that readings may prove, and those that do."""
    for name in layout.tanks:
        own = [one for one in marks if (one.what, one.part) == ("tank-pressure", name)]
        yield f"tanks.{name}.wall.leak-tested", _met(own, signed)
    vacuum = _met([one for one in marks if one.what == "vacuum-loss"], signed)
    yield from ((f"valves.{name}.vacuum-rated", vacuum) for name in layout.valves)
    yield from ((f"fill-ports.{name}.leak-tested", vacuum) for name in layout.fill_ports)
    yield "papers.feed-order-tested", _in_order(layout, signed)
    yield "papers.tests-recorded", _met(marks, signed)


def _met(marks: Sequence[Mark], signed: Sequence[Measured]) -> tuple[Measured, ...]:
    """The readings, if each mark has one and all pass; else nothing."""
    met: list[Measured] = []
    for mark in marks:
        read = [one for one in signed if (one.what, one.part or "") == (mark.what, mark.part)]
        if not read or not all(_passes(mark, one) for one in read):
            return ()
        met += read
    return tuple(met)


def _passes(mark: Mark, reading: Measured) -> bool:
    value: float | None = getattr(reading, MEASURES[reading.what])
    return value is not None and mark.met_by(value, reading.at_flow) is True


def _in_order(layout: Layout, signed: Sequence[Measured]) -> tuple[Measured, ...]:
    """Times at which the mains ran dry, if they did so in the order that is meant."""
    read = {one.part: one for one in signed if one.what == "drain-time"}
    mains = [name for name in layout.feed_order if layout.tanks[name].role == "main"]
    if not all(name in read for name in mains):
        return ()
    times = {name: read[name].time or 0.0 for name in mains}
    together = [{*group} for group in layout.together]
    for first, then in pairwise(mains):
        same = any({first, then} <= group for group in together)
        if not same and times[first] > times[then] * (1.0 + _TOLD_APART):
            return ()
    return tuple(read[name] for name in mains)
