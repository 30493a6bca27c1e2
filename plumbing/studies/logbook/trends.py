"""Readings that drift: effort of the pump, air in the header. Limits are common practice."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from plumbing.findings import Figure, Finding, Severity
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.logbook import Entry
from plumbing.studies.logbook.statistics import Line, line_through
from plumbing.studies.logbook.upkeep import SUCTION_SIDE, felts
from plumbing.units import show

EFFORT_DRIFT = 0.10  # of the pump's effort when the trend begins [-]
_HOUR = 3600.0
_MEANS = {
    "more": "a filter or pickup that clogs, a pinched line, or worn gears",
    "less": "air that reaches the pump, or a leak",
    "air": "a joint that leaks air, or a pickup that unports for longer",
}


@frozen
class Trend:
    """One reading over the hours run.

    Attributes
    ----------
    what : str
        What was read, such as `pump voltage at full throttle`.
    part : str
        Where, or empty where the rows do not say.
    kind : str
        Kind of quantity.
    hours : tuple of float
        Hours run at each reading, shape (N,).
    values : tuple of float
        Readings, shape (N,) [SI].
    since : str
        Day of the first one: what was renewed later begins a new trend.
    line : Line or None
        Straight line through them; None with fewer than three, or without hours between them.
    least, most : float or None
        Limits of the value [SI].
    """

    what: str
    part: str
    kind: str
    hours: tuple[float, ...]
    values: tuple[float, ...]
    since: str
    line: Line | None
    least: float | None
    most: float | None

    @property
    def now(self) -> Figure:
        """Last value by the line, with its band; the last reading where there is no line."""
        if self.line is None:
            return Figure(self.values[-1], self.kind)
        end, band = self.line.end, self.line.end_band
        return Figure(end, self.kind, end - band, end + band)

    @property
    def beyond(self) -> bool:
        """Whether it is beyond a limit now."""
        value = self.now.value
        low, high = self.least, self.most
        return (low is not None and value < low) or (high is not None and value > high)

    @property
    def hours_left(self) -> float | None:
        """Hours until a limit, where the slope is certain; None where it leads to none."""
        if self.line is None or not self.line.certain or self.beyond:
            return None
        limit = self.most if self.line.slope > 0.0 else self.least
        return None if limit is None else (limit - self.line.end) / self.line.slope


def trends(
    layout: Layout, entries: Sequence[Entry], header_air: Mapping[str, float]
) -> tuple[Trend, ...]:
    """Trends of a logbook, each since what it depends on was last renewed.

    Parameters
    ----------
    layout : Layout
        The layout.
    entries : sequence of Entry
        Rows by day.
    header_air : mapping of str to float
        Most air each header may hold [m3].
    """
    hours = hours_run(entries)
    pumps = {*layout.filters, *felts(layout)}
    headers = {*header_air, SUCTION_SIDE}
    found = (
        ("volts", "pump voltage at full throttle", "voltage", pumps, layout.pumps),
        ("duty", "pump duty at full throttle", "share", pumps, layout.pumps),
        ("header_air", "air in the header", "volume", headers, header_air),
    )
    made: list[Trend] = []
    for field, what, kind, renewed, parts in found:
        for part in dict.fromkeys(_part(one, parts) for one in entries if _read(one, field)):
            rows = _rows(entries, hours, field, part, parts, renewed)
            most = header_air.get(part, min(header_air.values(), default=None))
            made.append(_trend(what, part, kind, rows, most if kind == "volume" else None))
    return tuple(made)


def hours_run(entries: Sequence[Entry]) -> tuple[float, ...]:
    """Hours that engines have run at the end of each row."""
    total, found = 0.0, []
    for one in entries:
        total += (one.time or 0.0) / _HOUR if one.kind in ("flight", "run") else 0.0
        found.append(total)
    return tuple(found)


def _part(entry: Entry, parts: Collection[str]) -> str:
    """Which of the parts was read: the one that is named, or the only one there is."""
    if entry.part in parts:
        return entry.part or ""
    return next(iter(parts)) if len(parts) == 1 else ""


def _read(entry: Entry, field: str) -> bool:
    return entry.kind != "care" and getattr(entry, field) is not None


def _rows(
    entries: Sequence[Entry],
    hours: Sequence[float],
    field: str,
    part: str,
    parts: Collection[str],
    renewed: set[str],
) -> list[tuple[str, float, float]]:
    """Day, hours and value of the readings at a part since a part was last renewed."""
    rows: list[tuple[str, float, float]] = []
    last: list[tuple[str, float, float]] = []
    for one, at in zip(entries, hours, strict=True):
        if one.kind == "care" and one.part in renewed:
            last, rows = rows or last, []
        elif _read(one, field) and _part(one, parts) == part:
            rows.append((one.date, at, getattr(one, field)))
    return rows or last


def _trend(
    what: str, part: str, kind: str, rows: Sequence[tuple[str, float, float]], most: float | None
) -> Trend:
    hours, values = tuple(row[1] for row in rows), tuple(row[2] for row in rows)
    line = line_through(hours, values)
    least = None
    if kind != "volume":
        start = values[0] if line is None else line.start
        least, most = (1.0 - EFFORT_DRIFT) * start, (1.0 + EFFORT_DRIFT) * start
    return Trend(what, part, kind, hours, values, rows[0][0], line, least, most)


def trend_findings(found: Sequence[Trend]) -> Iterator[Finding]:
    """Readings beyond their limit."""
    for one in found:
        if not one.beyond:
            continue
        above = one.most is not None and one.now.value > one.most
        limit = one.most if above else one.least
        means = "air" if one.kind == "volume" else "more" if above else "less"
        doubt = "" if one.line is None or one.line.certain else ", though no trend is certain yet"
        where = f" of {one.part}" if one.part and one.kind != "volume" else ""
        yield Finding(
            "logbook",
            Severity.FAULT,
            one.part,
            f"The {one.what}{where} is {show(one.now.value, one.kind)} after "
            f"{one.hours[-1] - one.hours[0]:.2g} h{doubt}.",
            measured=one.now,
            allowed=Figure(limit or 0.0, one.kind),
            advice=f"Look for {_MEANS[means]}.",
        )
