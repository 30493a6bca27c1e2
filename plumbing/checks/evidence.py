"""Readings on the bench as evidence: what passed, is dated and signed proves a statement."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from plumbing.checks.kit import Case
from plumbing.checks.pass_marks import pass_marks
from plumbing.checks.sides import valves_on
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.measured import MEASURES, Measured
from plumbing.studies.bench import Mark

_TOLD_APART = 0.05  # of the time: what runs dry within this of another does so with it [-]


@frozen
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
    """Statements that the readings under `measured:` prove, if they are dated and signed.

    Parameters
    ----------
    case : Case
        The layout and its results.

    Raises
    ------
    LayoutError
        The file sets a limit that does not exist.
    """
    signed = _signed(case.layout)
    if not signed:
        return ()
    marks = _read_on_the_bench(case)
    return tuple(Proof(path, met) for path, met in _by_statement(case, marks, signed) if met)


def unmet(case: Case) -> tuple[Mark, ...]:
    """What must be met on the bench and is not, by a reading that passed, dated and signed.

    Raises
    ------
    LayoutError
        The file sets a limit that does not exist.
    """
    signed = _signed(case.layout)
    return tuple(mark for mark in _read_on_the_bench(case) if not _met([mark], signed))


def beyond(case: Case) -> Iterator[tuple[Measured, Mark]]:
    """Readings that do not meet their limit, signed or not."""
    if not case.layout.measured:
        return
    marks = {(mark.what, mark.part): mark for mark in _read_on_the_bench(case)}
    for one in case.layout.measured.values():
        mark = marks.get((one.what, one.part or ""))
        value: float | None = getattr(one, MEASURES[one.what])
        if mark and value is not None and mark.met_by(value, one.at_flow) is False:
            yield one, mark


def _signed(layout: Layout) -> list[Measured]:
    """Readings that say when, by whom and with what."""
    return [one for one in layout.measured.values() if one.on and one.by and one.instrument]


def _read_on_the_bench(case: Case) -> list[Mark]:
    return [mark for mark in pass_marks(case).all if mark.what in MEASURES]


def _by_statement(
    case: Case, marks: Sequence[Mark], signed: Sequence[Measured]
) -> Iterator[tuple[str, tuple[Measured, ...]]]:
    """Each statement that readings may prove, and those that do."""
    layout = case.layout
    for name in layout.tanks:
        own = [one for one in marks if (one.what, one.part) == ("tank-pressure", name)]
        yield f"tanks.{name}.wall.leak-tested", _met(own, signed)
    vacuum = _met([one for one in marks if one.what == "vacuum-loss"], signed)
    valves = valves_on(case, "suction")
    yield from ((f"valves.{valve.name}.vacuum-rated", vacuum) for valve in valves)
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
