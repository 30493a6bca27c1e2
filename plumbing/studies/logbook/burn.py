"""Fuel burnt as the logbook has it: mean flow, and from it timer and reserve."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from plumbing.findings import Figure, Finding, Severity
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.model.logbook import Entry, burnt
from plumbing.results import NotComputed
from plumbing.simulation.endurance import APPROACH, timer_setting
from plumbing.simulation.flight_result import Flown
from plumbing.studies.logbook.statistics import Mean, mean_of
from plumbing.units import clock, show

_FEW = 2  # flights below which nothing is known of how they differ


@frozen
class Burn:
    """What the flights burnt, and what follows for the next one.

    Attributes
    ----------
    flights : int
        Flights with both fuel and time.
    flow : Figure
        Mean flow in those flights with its band, fuel for start and taxiing counted in [m3/s].
    most : float
        Flow that the next flight exceeds once in twenty times [m3/s].
    predicted : float
        Mean flow in the air as predicted [m3/s].
    in_use : float
        Timer in use: that of the layout, or the predicted one [s].
    timer : Figure
        Timer by the mean flow; its low end holds for 19 of 20 flights, its high end is that of
        a flight that burns as much less as the other burns more [s].
    to_set : float
        Timer to be set: the low end, rounded down [s].
    left : Figure
        Usable fuel left at touchdown with the timer in use, so flown [m3].
    reserve : float
        Fuel that should be left [m3].
    """

    flights: int
    flow: Figure
    most: float
    predicted: float
    in_use: float
    timer: Figure
    to_set: float
    left: Figure
    reserve: float


def flows(entries: Sequence[Entry]) -> tuple[tuple[str, float], ...]:
    """Day and mean flow [m3/s] of each flight that has both fuel and time."""
    return tuple(
        (one.date, fuel / one.time)
        for one, fuel in zip(entries, burnt(entries), strict=True)
        if one.kind == "flight" and fuel and one.time
    )


def burn(
    layout: Layout, flown: Flown | NotComputed, entries: Sequence[Entry]
) -> Burn | NotComputed:
    """Correct flow, timer and reserve by the flights of a logbook."""
    measured = [flow for _, flow in flows(entries)]
    if len(measured) < _FEW:
        return NotComputed(
            "burn", f"two flights with time and fuel are needed; there are {len(measured)}"
        )
    if isinstance(flown, NotComputed):
        return NotComputed("burn", f"the flight was not computed: {flown.reason}")
    mean = mean_of(measured)
    in_use = flown.timer if layout.papers.timer is None else layout.papers.timer
    if mean.beyond >= mean.value:
        return NotComputed("burn", "the flights differ too much for a band; log more of them")
    timer = _timer(flown, mean)
    return Burn(
        flights=mean.count,
        flow=Figure(mean.value, "flow", mean.value - mean.band, mean.value + mean.band),
        most=mean.value + mean.beyond,
        predicted=flown.mean_flow,
        in_use=in_use,
        timer=timer,
        to_set=timer_setting(timer.band[0] + APPROACH),
        left=_left(flown, mean, in_use),
        reserve=flown.reserve,
    )


def _timer(flown: Flown, mean: Mean) -> Figure:
    """Time from take-off until a circuit and approach before the reserve is touched."""
    room = max(flown.usable - flown.reserve, 0.0)
    middle, low, high = (
        max(room / (mean.value + off) - APPROACH, 0.0) for off in (0.0, mean.beyond, -mean.beyond)
    )
    return Figure(middle, "time", low, high)


def _left(flown: Flown, mean: Mean, timer: float) -> Figure:
    """Usable fuel at touchdown; none is left where it would be less."""
    middle, low, high = (
        max(flown.usable - (mean.value + off) * (timer + APPROACH), 0.0)
        for off in (0.0, mean.beyond, -mean.beyond)
    )
    return Figure(middle, "volume", low, high)


def burn_findings(layout: Layout, found: Burn) -> Iterator[Finding]:
    """What is wrong with the timer in use, or with the predicted flow."""
    if found.left.band[0] < found.reserve:
        chance = "most" if found.left.value < found.reserve else "more than one in twenty"
        yield Finding(
            "logbook",
            Severity.FAULT,
            "timer",
            f"With the timer at {clock(found.in_use)} {chance} of the flights land with less "
            f"than the reserve of {show(found.reserve, 'volume')}.",
            measured=found.left,
            allowed=Figure(found.reserve, "volume"),
            advice=f"Set the timer to {clock(found.to_set)}.",
        )
    share = found.flow.value / found.predicted - 1.0 if found.predicted else 0.0
    low, high = found.flow.band
    if abs(share) > layout.tolerances.flow and not low <= found.predicted <= high:
        word = "more" if share > 0.0 else "less"
        yield Finding(
            "logbook",
            Severity.ADVICE,
            "flow",
            f"The flights burn {abs(share):.0%} {word} than predicted; "
            f"{layout.tolerances.flow:.0%} is the tolerance of the flow.",
            measured=found.flow,
            allowed=Figure(found.predicted * (1.0 + layout.tolerances.flow), "flow"),
            advice="State the flight as it is flown, or the flow of the engine as measured.",
        )
