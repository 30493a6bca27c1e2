"""Many flights of one layout that differ only in flow, temperature, fill and dirt.

The network is compiled once and flown with a scenario axis, chunk by chunk, so that memory stays
flat. What a tube or a place changes needs a study (`plumbing.studies.study`) instead.
"""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import fields, replace
from itertools import islice
from multiprocessing import get_context

import numpy as np

from plumbing.errors import SolveError
from plumbing.frozen import frozen
from plumbing.hydraulics.solver import PRESSURE, VOLUME, solve
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.simulation.engines import Engines, engines_for
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.flight import airborne_again, feeding_for, lengthened
from plumbing.simulation.fluid import Fluids, fluids_at
from plumbing.simulation.march import march
from plumbing.simulation.moment import Stretches
from plumbing.simulation.profile import Profile
from plumbing.simulation.slugs import Slugs, slugs_for
from plumbing.studies.variants_seen import Seen

CHUNK = 1000
_AHEAD = 3  # chunks handed out for each process


@frozen(eq=False)
class Variants:
    """S variants.

    Attributes
    ----------
    flow : Array
        Factor on the flow of every engine, shape (S,) [-], above 0.
    celsius : Array
        Fuel temperature, shape (S,) [degC].
    fill : Array
        Fuel in each tank at start-up, as share of its capacity, shape (S, T) [-], 0 to 1.
    dirt : Array
        Factor on the drop of every filter, shape (S,) [-], 1 for clean.
    """

    flow: Array
    celsius: Array
    fill: Array
    dirt: Array

    def __len__(self) -> int:
        return len(self.flow)

    def part(self, begin: int, end: int) -> Variants:
        """Some of them."""
        return Variants(*(getattr(self, one.name)[begin:end] for one in fields(self)))


@frozen(eq=False)
class Fates:
    """What became of S variants.

    Attributes
    ----------
    endurance : Array
        Time in the air until the first engine stops, shape (S,) [s].
    usable : Array
        Fuel burnt until then, shape (S,) [m3].
    stranded : Array
        Fuel in each tank when fuel failed that engine, shape (S, T) [m3].
    flame_out : Array
        When the first engine stops in the stated flight, shape (S,) [s]; infinite if none does.
    suction : Array
        Greatest suction at a pump inlet as the stretch of greatest flow begins, shape (S,) [Pa];
        0 where the engine stopped before.
    met : Flags
        Whether all of it was computed, shape (S,). Where the network found no state, the rest holds
        what came before: a summary is over those that were met.
    """

    endurance: Array
    usable: Array
    stranded: Array
    flame_out: Array
    suction: Array
    met: Flags


def fly_variants(
    layout: Layout,
    survey: Survey,
    profile: Profile,
    variants: Variants,
    workers: int = 1,
) -> Iterator[Fates]:
    """Fly variants, a thousand at a time.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    profile : Profile
        The flight; the airborne part is flown again until the engines stop.
    variants : Variants
        What differs.
    workers : int
        Processes on this machine.

    Yields
    ------
    Fates
        Chunk after chunk, in the order of the variants.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank, or a variant is not a flight.
    """
    _examine(layout, variants)
    base = feeding_for(layout, survey, profile)
    engines = engines_for(layout, survey, base.plumbed.demands)
    slugs = slugs_for(layout, survey, base.plumbed.demands, profile.duration, base.flow)
    course = _Course(base, profile, engines, slugs)
    parts = (variants.part(n, n + CHUNK) for n in range(0, len(variants), CHUNK))
    chunks = ((part, fluids_at(layout, part.celsius)) for part in parts)
    if workers == 1:
        yield from (course.fates(*chunk) for chunk in chunks)
        return
    with ProcessPoolExecutor(workers, get_context("spawn"), _begin, (course,)) as pool:
        ahead = [pool.submit(_fates, *chunk) for chunk in islice(chunks, _AHEAD * workers)]
        while ahead:
            yield ahead.pop(0).result()
            ahead += [pool.submit(_fates, *chunk) for chunk in islice(chunks, 1)]


def _examine(layout: Layout, variants: Variants) -> None:
    shapes = {len(getattr(variants, one.name)) for one in fields(variants)}
    if len(shapes) != 1 or variants.fill.shape[1:] != (len(layout.tanks),):
        raise SolveError("variants need one flow, temperature, dirt and row of fills each")
    right = (variants.flow > 0.0) & (variants.dirt >= 1.0)
    right &= (np.abs(variants.celsius - 15.0) <= 75.0) & np.isfinite(variants.flow * variants.dirt)
    right &= ((variants.fill >= 0.0) & (variants.fill <= 1.0)).all(axis=1)
    if not right.all():
        raise SolveError(f"variant {int(np.flatnonzero(~right)[0]) + 1} is out of bounds")


@frozen(eq=False)
class _Course:
    """The network compiled for one flight, the flight, the engines and the lines to them."""

    base: Feeding
    profile: Profile
    engines: Engines
    slugs: Slugs

    def fates(self, variants: Variants, fluids: Fluids) -> Fates:
        """Fates of one chunk."""
        base, profile = self.base, self.profile
        feeding = replace(
            base,
            flow=base.flow * variants.flow[:, None, None],
            fluids=fluids,
            dirt=np.repeat(variants.dirt[:, None], len(base.plumbed.dirty), axis=1),
        )
        hardest = int(np.argmax(base.flow[0].sum(axis=1)))
        stated = self._marched(feeding, profile, variants.fill, hardest)
        slowest = replace(base, flow=base.flow * variants.flow.min())
        again, longer = airborne_again(slowest, profile)
        onwards = lengthened(profile.only(again), longer)
        dry = self._marched(feeding.only(again), onwards, variants.fill, -1).stops
        suction, found = _suction(feeding, stated, hardest)
        return Fates(
            endurance=onwards.aloft(dry.time),
            usable=dry.burnt,
            stranded=dry.held,
            flame_out=stated.stops.stop,
            suction=suction,
            met=stated.stops.end.met & dry.end.met & found,
        )

    def _marched(self, feeding: Feeding, profile: Profile, fill: Array, watched: int) -> Seen:
        slugs = replace(self.slugs, duration=profile.duration, flow=feeding.flow)
        seen = Seen(self.engines, slugs, watched)
        march(
            feeding.tanks,
            Stretches(profile.duration, feeding.index),
            feeding.tanks.filled(fill),
            feeding.remembering(len(fill)),
            stop=seen.stops.over,
            see=seen,
            flame_out=self.engines.flame_out,
        )
        return seen


_course: _Course | None = None


def _begin(course: _Course) -> None:
    """Keep the course in a new process, so that it travels once."""
    global _course
    _course = course


def _fates(variants: Variants, fluids: Fluids) -> Fates:
    assert _course is not None, "the process was not begun"
    return _course.fates(variants, fluids)


def _suction(feeding: Feeding, seen: Seen, stretch: int) -> tuple[Array, Flags]:
    """Greatest suction as a stretch begins, for those that reach it with engines running.

    Whether it was found comes second; what does not reach it needs none.
    """
    result = np.zeros(len(seen.watched_volume))
    met = np.ones(len(result), dtype=bool)
    rows: Indices = np.flatnonzero(seen.reached)
    if rows.size:
        at = np.full(len(rows), stretch, dtype=np.intp)
        conditions = feeding.conditions(rows, at, seen.watched_volume[rows])
        found = solve(feeding.plumbed.circuit, conditions)
        result[rows] = -found.pressure[:, feeding.plumbed.demand_node].min(axis=1)
        met[rows] = (found.volume_residual <= VOLUME) & (found.pressure_residual <= PRESSURE)
    return result, met
