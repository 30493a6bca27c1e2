"""What the checks of an aircraft left standing share."""

from collections.abc import Iterator

from plumbing.checks.kit import Case, Lacking
from plumbing.simulation.parking_result import Parked


def no_attitude(case: Case) -> Iterator[Lacking]:
    """Say so where the file states no attitude in which the aircraft is left."""
    if not case.layout.parking:
        yield Lacking("parking")


def attitudes(case: Case) -> tuple[Parked, ...]:
    """The aircraft in every attitude it is left in; none where no line joins any tank."""
    return () if case.parking is None else tuple(case.parking.attitudes.values())
