"""Upkeep: what is renewed or looked at, how often, and when it is due by the logbook."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from plumbing import quantities, units
from plumbing.findings import Finding, Severity
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.logbook import Entry, burnt
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown

FLIGHTS = 50.0  # between yearly jobs; common practice
YEAR = quantities.parse("1 year", "age")
SUCTION_SIDE = "suction side"
_DAY = 86400.0


@frozen
class Job:
    """A job at a part.

    Attributes
    ----------
    part : str
        The part, or a word for several.
    what : str
        What is done.
    every : float
        Interval [s].
    age : float or None
        Age of the part as the layout states it [s].
    rule : str
        Check whose limit the interval is, or empty.
    """

    part: str
    what: str
    every: float
    age: float | None = None
    rule: str = ""

    @property
    def by_use(self) -> bool:
        """Whether it falls due by hours and litres too."""
        return not self.rule


@frozen
class Use:
    """Use after which yearly jobs fall due: time of running [s] and fuel burnt [m3]."""

    time: float
    fuel: float


@frozen
class Due:
    """When a job is due.

    Attributes
    ----------
    job : Job
        The job.
    done : str
        Day from which it counts: it was done then, or the logbook begins.
    logged : bool
        Whether the logbook says that it was done.
    on : str
        Day on which it is due by the calendar.
    time, fuel : float
        Running [s] and fuel burnt [m3] since.
    use : Use or None
        Use after which it is due; None where only age counts or the flight was not computed.
    overdue : bool
        Whether it is due now.
    """

    job: Job
    done: str
    logged: bool
    on: str
    time: float
    fuel: float
    use: Use | None
    overdue: bool


def jobs(layout: Layout, limits: Mapping[str, float]) -> tuple[Job, ...]:
    """Jobs of a layout: first what is renewed, then what is looked at.

    Parameters
    ----------
    layout : Layout
        The layout.
    limits : mapping of str to float
        Limits of the checks in force [SI].
    """
    return (*_renewals(layout, limits), *_looks(layout))


def felts(layout: Layout) -> tuple[str, ...]:
    """Pickups with felt or mesh, as their upkeep is named."""
    return tuple(
        f"felt of {tank.name}.{port.name}"
        for tank in layout.tanks.values()
        for port in tank.ports.values()
        if port.pickup and port.pickup.pore is not None
    )


def use_of(layout: Layout, flown: Flown | NotComputed) -> Use | NotComputed:
    """Use between yearly jobs: as the layout states it, else that of so many stated flights."""
    papers = layout.papers
    if papers.service_time is not None and papers.service_fuel is not None:
        return Use(papers.service_time, papers.service_fuel)
    if isinstance(flown, NotComputed):
        return flown
    burn = sum(flown.books.burnt.values())
    time, fuel = papers.service_time, papers.service_fuel
    return Use(
        FLIGHTS * flown.duration if time is None else time, FLIGHTS * burn if fuel is None else fuel
    )


def due(
    all_jobs: Sequence[Job], use: Use | NotComputed, entries: Sequence[Entry], today: date
) -> tuple[Due, ...]:
    """When each job is due; none where the logbook has no rows.

    Parameters
    ----------
    all_jobs : sequence of Job
        The jobs.
    use : Use or NotComputed
        Use between yearly ones.
    entries : sequence of Entry
        Rows by day.
    today : date
        Day on which it is asked.
    """
    if not entries:
        return ()
    fuels = burnt(entries)
    return tuple(_due(job, use, entries, fuels, today) for job in all_jobs)


def _due(
    job: Job,
    use: Use | NotComputed,
    entries: Sequence[Entry],
    fuels: Sequence[float | None],
    today: date,
) -> Due:
    done = [number for number, one in enumerate(entries) if _is_care(one, job)]
    first = done[-1] + 1 if done else 0
    since = date.fromisoformat(entries[done[-1] if done else 0].date)
    ran = [
        (one.time or 0.0, fuel or 0.0)
        for one, fuel in zip(entries[first:], fuels[first:], strict=True)
        if one.kind in ("flight", "run")
    ]
    time, fuel = sum(one for one, _ in ran), sum(one for _, one in ran)
    age = 0.0 if done else job.age or 0.0
    on = since + timedelta(days=(job.every - age) / _DAY)
    most = use if job.by_use and known(use) else None
    over = on < today or (most is not None and (time > most.time or fuel > most.fuel))
    return Due(job, since.isoformat(), bool(done), on.isoformat(), time, fuel, most, over)


def _is_care(entry: Entry, job: Job) -> bool:
    return entry.kind == "care" and entry.part == job.part


def due_findings(found: Sequence[Due]) -> Iterator[Finding]:
    """Jobs that are overdue."""
    for one in found:
        if one.overdue:
            by = f"was due on {one.on}"
            if one.use is not None and one.time > one.use.time:
                by = f"was due after {one.use.time / 3600.0:.3g} h of running"
            elif one.use is not None and one.fuel > one.use.fuel:
                by = f"was due after {units.show(one.use.fuel, 'volume')} of fuel"
            what = f"{one.job.part}: {one.job.what}; it {by}."
            yield Finding(
                "logbook", Severity.FAULT, one.job.part, what, advice="Do it and log the care."
            )


def _renewals(layout: Layout, limits: Mapping[str, float]) -> Iterator[Job]:
    hose, seal = limits["hose-overdue"], limits["fitting-overdue"]
    soft = min(hose, layout.papers.renewal or hose)
    for tank in layout.tanks.values():
        for port in tank.ports.values():
            if port.pickup and port.pickup.hose:
                part, age = f"{tank.name}.{port.name}", port.pickup.hose.age
                yield Job(part, "renew the pickup hose", soft, age, "hose-overdue")
    tubes: dict[str, float | None] = {}
    for line in layout.lines.values():
        tubes[line.tube] = max(filter(None, (tubes.get(line.tube), line.age)), default=None)
    for tube, age in tubes.items():
        yield Job(f"lines of {tube}", "renew, those at heat first", soft, age, "hose-overdue")
    for name, joint in layout.joints.items():
        yield Job(f"joints {name}", "renew seals and locks", seal, joint.age, "fitting-overdue")
    for name, connector in layout.connectors.items():
        yield Job(name, "renew seals", seal, connector.age, "fitting-overdue")


def _looks(layout: Layout) -> Iterator[Job]:
    for name in felts(layout):
        yield Job(name, "renew felt or mesh", YEAR)
    for name in layout.filters:
        yield Job(name, "open and clean, look for water and fibres", YEAR)
    for name in layout.pumps:
        yield Job(name, "compare volts at idle and full with the first run", YEAR)
    for name in layout.outlets:
        yield Job(name, "blow through, look for insects", YEAR)
    yield Job(SUCTION_SIDE, "vacuum test", YEAR)
    yield Job("tanks", "look for chafe at straps, weeping walls, loose bungs", YEAR)
