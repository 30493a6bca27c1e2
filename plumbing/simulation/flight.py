"""Fly a layout: the stated flight, and its airborne part again and again until the engines stop."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from plumbing.errors import SolveError
from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.physics.vents import dynamic_pressure
from plumbing.simulation import endurance
from plumbing.simulation.airstream import coefficients, with_airspeed
from plumbing.simulation.demand import demands
from plumbing.simulation.engines import Engines, Stops, engines_for
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.flight_books import books_of
from plumbing.simulation.flight_result import Flown, History
from plumbing.simulation.history import Record, history_of
from plumbing.simulation.left import lying_assumed, pockets_left, surfaces_at
from plumbing.simulation.march import march
from plumbing.simulation.moment import Stretches
from plumbing.simulation.profile import Profile, profile_of
from plumbing.simulation.recorded import profile_of_log
from plumbing.simulation.setup import closed_while, set_up
from plumbing.simulation.sloshing import with_slosh
from plumbing.simulation.slugs import Slugs, slugs_for
from plumbing.simulation.uncovered import uncovered
from plumbing.simulation.usual_flights import usual_profile
from plumbing.stopping import part
from plumbing.units import clock

_LONGEST = 6 * 3600.0  # a dry run is not followed further [s]
_MOST_STRETCHES = 20_000
_MOST_TIMES = 100  # the airborne part is repeated


def profile_for(layout: Layout, name: str | None = None) -> Profile:
    """Flight of that name, the first of the layout, or the usual one for its style.

    Raises
    ------
    KeyError
        The layout has no flight of that name.
    LayoutError
        The flight is a recorded one, and its log has faults.
    """
    flights = {n: flight for n, flight in layout.flights.items() if flight.phases or flight.log}
    if name is None and not flights:
        return usual_profile(layout.aircraft.flown_as)
    chosen = flights[name] if name is not None else next(iter(flights.values()))
    if chosen.log is not None:
        return profile_of_log(layout, chosen)
    return with_airspeed(layout, profile_of(chosen.name, chosen.phases))


def fly(layout: Layout, survey: Survey, profile: Profile | None = None) -> Flown:
    """Fly a layout.

    Parameters
    ----------
    layout : Layout
        The layout.
    survey : Survey
        Its survey.
    profile : Profile, optional
        The flight; by default the layout's first, or the usual one for its style.

    Returns
    -------
    Flown
        Histories, feed order, air, stranded fuel, endurance.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank, no engine's flow is known, or no phase of the flight lasts.
    """
    flown = profile or profile_for(layout)
    if not flown.length > 0.0:
        raise SolveError(f"no phase of flight {flown.name} lasts")
    feeding = feeding_for(layout, survey, flown)
    if not feeding.flow.any():
        raise SolveError("no engine that a pump could feed has a fuel flow")
    noted = (*flown.assumptions, *lying_assumed(layout, survey, feeding.tanks))
    flown = replace(flown, assumptions=noted)
    again, longer = airborne_again(feeding, flown)
    engines = engines_for(layout, survey, feeding.plumbed.demands)
    slugs = slugs_for(layout, survey, feeding.plumbed.demands, flown.duration, feeding.flow)
    ends = 0.25 if layout.simulation.slosh else 0.5
    with part(0.0, ends):
        stated = _marched(layout, feeding, engines, slugs, flown)
    farther, onwards = feeding.only(again), lengthened(flown.only(again), longer)
    slugs = replace(slugs, duration=onwards.duration, flow=farther.flow)
    with part(ends, 2.0 * ends):
        dry = _marched(layout, farther, engines, slugs, onwards)
    still = uncovered(survey, stated.feeding, stated.history)
    if layout.simulation.slosh:
        with part(0.5, 0.75):
            stated = _sloshed(layout, survey, engines, stated)
        with part(0.75, 1.0):
            dry = _sloshed(layout, survey, engines, dry)
    return _summed(layout, survey, still, stated, dry)


@frozen(eq=False)
class _March:
    """One marched flight.

    Attributes
    ----------
    profile, feeding, slugs, history
        What was flown, the network and the lines it was flown with, and what came of it.
    dry : Array
        Time each pump was dry, shape (N, P) [s].
    gas : Flags
        Whether the gas in what each pump draws stops an engine by itself, shape (N, P).
    """

    profile: Profile
    feeding: Feeding
    slugs: Slugs
    history: History
    dry: Array
    gas: Flags

    @property
    def failed(self) -> dict[str, float]:
        """When fuel failed each pump [s]; infinite if it did not."""
        times, _ = endurance.failures(self.history, self.dry)
        return dict(zip(self.history.pumps, times.tolist(), strict=True))

    @property
    def flame_out(self) -> dict[str, float | None]:
        """When each pump's engine stops [s]."""
        failed, at = endurance.failures(self.history, self.dry)
        gas = self.gas[at, np.arange(len(at))]
        return endurance.flame_outs(self.history.pumps, self.slugs.felt(failed[None], gas[None])[0])


def _marched(
    layout: Layout, feeding: Feeding, engines: Engines, slugs: Slugs, profile: Profile
) -> _March:
    record = Record()
    share = [[tank.fuel for tank in layout.tanks.values()]]
    end = march(
        feeding.tanks,
        Stretches(profile.duration, feeding.index),
        feeding.tanks.filled(share),
        feeding.remembering(1),
        stop=Stops(engines, slugs).over,
        see=record,
        flame_out=engines.flame_out,
    )
    if not end.met[0]:
        place = min(int(end.stretch[0]), len(profile.phase) - 1)
        when = f"after {clock(float(end.time[0]))}, in {profile.phase[place]}"
        raise SolveError(f"no steady state of the network was found {when}")
    history = history_of(layout, feeding, profile, record)
    gas = record.balances().mix < engines.flame_out.liquid[0]
    return _March(profile, feeding, slugs, history, record.doubled("dry"), gas)


def _sloshed(layout: Layout, survey: Survey, engines: Engines, still: _March) -> _March:
    """The same flown again, the surfaces swinging."""
    profile = with_slosh(layout, still.profile, still.history)
    feeding = feeding_for(layout, survey, profile)
    slugs = slugs_for(layout, survey, feeding.plumbed.demands, profile.duration, feeding.flow)
    return _marched(layout, feeding, engines, slugs, profile)


def feeding_for(layout: Layout, survey: Survey, profile: Profile) -> Feeding:
    """Network and tanks made ready for a flight, one scenario.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank.
    """
    feeding = set_up(
        layout,
        survey,
        profile.gravity,
        surface=profile.surface,
        closed=closed_while(layout, "flight"),
    )
    if not feeding.plumbed.demands:
        raise SolveError("no pump or engine draws fuel from a tank through open lines")
    flow = demands(layout, survey, feeding.plumbed, profile.throttle, profile.flow)
    return replace(
        feeding,
        flow=flow[None],
        stream=dynamic_pressure(profile.airspeed),
        coefficient=coefficients(layout, feeding.plumbed),
    )


def airborne_again(feeding: Feeding, profile: Profile) -> tuple[Indices, Array]:
    """Start and take-off as stated, then the airborne stretches until all fuel must be burnt.

    Where they are so short that they would be flown more than a hundred times, each is flown
    longer instead; by what factor comes second.
    """
    aloft = np.flatnonzero(profile.airborne)
    if not aloft.size:
        aloft = np.arange(len(profile.duration))
    drawn = feeding.flow[0, aloft].sum(axis=1) @ profile.duration[aloft]
    longest = _LONGEST / max(float(profile.duration[aloft].sum()), 1e-9)
    held = 1.1 * float(feeding.tanks.capacity.sum())
    times = max(min(held / max(float(drawn), 1e-12), longest), 1.0)
    longer = np.ceil(times / _MOST_TIMES)
    before = np.arange(aloft[0])
    chosen = np.concatenate([before, np.tile(aloft, int(np.ceil(times / longer)))])
    factor = np.where(np.arange(len(chosen)) < len(before), 1.0, longer)
    return chosen[:_MOST_STRETCHES].astype(np.intp), factor[:_MOST_STRETCHES]


def lengthened(profile: Profile, factor: Array) -> Profile:
    """The same with each stretch lasting so many times as long, shape (K,)."""
    return replace(profile, duration=profile.duration * factor)


def _summed(
    layout: Layout, survey: Survey, still: Mapping[str, float], stated: _March, dry: _March
) -> Flown:
    profile, history, spent = stated.profile, stated.history, dry.history
    capacity = stated.feeding.tanks.capacity
    books = books_of(layout, survey, profile, history, float(history.time[-1]))
    stops = endurance.engines_stopped(survey, dry.flame_out)
    out = min(stops, key=lambda engine: stops[engine], default="")
    first = stops.get(out, float(spent.time[-1]))
    failed = endurance.engines_stopped(survey, dry.failed).get(out, first)
    dry_books = books_of(layout, survey, dry.profile, spent, failed)
    usable = sum(dry_books.burnt.values())
    reserve = endurance.reserve_of(layout, usable)
    reserve_left = endurance.moment_of_reserve(spent, usable, reserve)
    to_reserve = float(dry.profile.aloft(np.array(reserve_left)))
    entered, most = endurance.header_air(layout, history, capacity)
    stopped = stated.flame_out
    more = max(books.gone - dry_books.gone, 0.0)  # lost in the flight and not in the dry run
    landed = usable - sum(books.burnt.values()) - more
    return Flown(
        profile=profile,
        dry_profile=dry.profile,
        history=history,
        dry_run=spent,
        flame_out=stopped,
        air_at_pump=endurance.gasps(history, stated.dry, profile, stated.slugs),
        line_to_pump=dict(zip(history.pumps, stated.slugs.to_pump[0].tolist(), strict=True)),
        line_to_engine=dict(zip(history.pumps, stated.slugs.to_engine[0].tolist(), strict=True)),
        air_in_header=entered,
        header_air=most,
        order=endurance.emptying_order(spent),
        books=books,
        dry_books=dry_books,
        pockets=pockets_left(survey, dry.feeding, spent, failed),
        uncovered=uncovered(survey, stated.feeding, history),
        uncovered_still=still,
        stops_first=out,
        landed_with=0.0 if any(t is not None for t in stopped.values()) else max(landed, 0.0),
        reserve=reserve,
        surfaces_at_reserve=surfaces_at(dry.feeding, spent, reserve_left),
        endurance=float(dry.profile.aloft(np.array(first))),
        to_reserve=to_reserve,
        timer=endurance.timer_setting(to_reserve),
        mean_flow=_mean_flow(history, profile),
    )


def _mean_flow(history: History, profile: Profile) -> float:
    """Mean flow of all pumps over the airborne moments [m3/s]."""
    steps = np.diff(history.time)
    inside = history.stretch[:-1]
    aloft = profile.airborne[inside]
    drawn = history.flow[:-1].sum(axis=1) * steps
    time = float(steps[aloft].sum())
    return float(drawn[aloft].sum()) / time if time > 0.0 else 0.0
