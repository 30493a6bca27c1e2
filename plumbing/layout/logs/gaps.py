"""Rows in time: rising, without long gaps; short gaps are bridged by holding the last value."""

from __future__ import annotations

import numpy as np

from plumbing import units
from plumbing.frozen import frozen
from plumbing.layout.gathering import Faults, quoted
from plumbing.layout.logs.cells import Repeated
from plumbing.layout.logs.header import Column, Header, place_of
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.place import Place

LONGEST = 24 * 3600.0  # a flight no longer than this [s]
_SLACK = 1e-9


@frozen
class Rules:
    """What is asked of a log.

    Attributes
    ----------
    file : str
        For the places.
    text : list of str
        Lines of the file, for the columns of the places.
    header : Header
        Its first row.
    longest_gap : float
        Gap bridged by holding the last value [s].
    faults : Faults
        Receives what is wrong.
    """

    file: str
    text: list[str]
    header: Header
    longest_gap: float
    faults: Faults

    def at(self, line: int, column: Column) -> Place:
        """Place of a cell."""
        number = int(line)
        return place_of(self.text[number - 1], number, column.index, self.header, self.file)


def check_time(time: Array, lines: Indices, column: Column, rules: Rules) -> None:
    """Note rows whose time does not rise, long gaps between rows, and too few rows."""
    if len(time) < 2:
        found = "one row of numbers" if len(time) else "no row with a time"
        rules.faults.add(
            rules.at(lines[0] if len(lines) else rules.header.line, column),
            found,
            "two rows or more",
        )
        return
    steps = np.diff(time)
    back, apart = Repeated(rules.faults), Repeated(rules.faults)
    for row in np.flatnonzero(steps <= 0.0):
        found = f"{_seconds(time[row + 1])} in {quoted(column.title)} after {_seconds(time[row])}"
        back.add(rules.at(lines[row + 1], column), found, "time that rises from row to row")
    for row in np.flatnonzero(steps > rules.longest_gap + _SLACK):
        found = f"no row for {_seconds(steps[row])} between lines {lines[row]} and {lines[row + 1]}"
        apart.add(rules.at(lines[row + 1], column), found, _bound(rules))
    back.close()
    apart.close()
    if not back.count and time[-1] - time[0] > LONGEST:
        found = f"{_seconds(time[-1] - time[0])} from the first row to the last"
        rules.faults.add(
            rules.at(lines[-1], column),
            found,
            "a day at most; milliseconds are named as `time [ms]`",
        )


def held(
    values: Array, time: Array, lines: Indices, column: Column, rules: Rules
) -> tuple[Array, int]:
    """Values with the empty cells filled, and how many were.

    An empty cell takes the last value before it; the first ones, that have none, take the first
    value there is.
    """
    known = np.isfinite(values)
    if known.all():
        return values, 0
    _check_runs(known, time, lines, column, rules)
    last = np.maximum.accumulate(np.where(known, np.arange(len(values)), -1))
    last = np.where(last < 0, int(np.argmax(known)), last)
    return values[last], int((~known).sum())


def _check_runs(known: Flags, time: Array, lines: Indices, column: Column, rules: Rules) -> None:
    """Note runs of empty cells that last too long."""
    edges = np.diff(np.concatenate([[False], ~known, [False]]).astype(np.int8))
    too_long = Repeated(rules.faults)
    last = len(time) - 1
    for first, end in zip(np.flatnonzero(edges == 1), np.flatnonzero(edges == -1), strict=True):
        lasting = time[min(int(end), last)] - time[max(int(first) - 1, 0)]
        if lasting <= rules.longest_gap + _SLACK:
            continue
        where = f"lines {lines[first]} to {lines[end - 1]}"
        found = f"no number for {_seconds(lasting)} in {quoted(column.title)}, {where}"
        too_long.add(rules.at(lines[first], column), found, _bound(rules))
    too_long.close()


def _bound(rules: Rules) -> str:
    return f"gaps of at most {_seconds(rules.longest_gap)}, or a larger `longest-gap`"


def _seconds(value: float) -> str:
    return units.show(float(value), "time", 6)
