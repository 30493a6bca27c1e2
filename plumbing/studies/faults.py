"""Every single fault through the same flight, as one batch: what happens, when, how bad."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from plumbing.errors import SolveError, Stopped
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Flags
from plumbing.results import STOPPED
from plumbing.simulation.engines import STOPS_AFTER, engines_for
from plumbing.simulation.flight import profile_for
from plumbing.simulation.march import march
from plumbing.simulation.moment import Moment, Stretches
from plumbing.simulation.profile import Profile
from plumbing.simulation.slugs import slugs_for
from plumbing.stopping import part
from plumbing.studies.fault_batch import Batch, lots
from plumbing.studies.fault_course import Course
from plumbing.studies.fault_outcome import outcomes, ranked
from plumbing.studies.fault_result import Faults, Outcome, Unknown


def faults(layout: Layout, survey: Survey, profile: Profile | None = None) -> Faults:
    """Fly a layout with every single fault it can have.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    profile : Profile, optional
        The flight; by default the layout's first, or the usual one for its style.

    Returns
    -------
    Faults
        Outcomes, worst first.

    Raises
    ------
    SolveError
        Nothing draws fuel from a tank, or the flight finds no state without a fault.
    """
    flown = profile or profile_for(layout)
    found, stops = _all_flown(layout, survey, flown)
    airborne = np.flatnonzero(flown.airborne)
    before = flown.duration[: airborne[0]].sum() if airborne.size else 0.0
    return Faults(
        flight=flown.name,
        assumed=flown.assumed,
        duration=flown.length,
        take_off=float(before),
        outcomes=ranked(one for one in found if isinstance(one, Outcome)),
        unknown=tuple(one for one in found if isinstance(one, Unknown)),
        nominal_stops=stops,
    )


def _all_flown(
    layout: Layout, survey: Survey, profile: Profile
) -> tuple[list[Outcome | Unknown], Mapping[str, float]]:
    """What each fault does, lot by lot, and the pumps that run dry without any, with times [s]."""
    found: list[Outcome | Unknown] = []
    stops: Mapping[str, float] = {}
    planned = lots(layout, survey)
    for number, lot in enumerate(planned):
        try:
            with part(number / len(planned), (number + 1) / len(planned)):
                made = lot.batch(layout, survey, profile)
                course = _flown(layout, survey, made, profile)
        except Stopped:
            if not number:
                raise
            left = (effect for one in planned[number:] for effect in one.effects)
            found += [Unknown.of(effect.fault, STOPPED, stopped=True) for effect in left]
            break
        if course.met[0]:
            stops = stops or course.stops(0)
            found += outcomes(layout, survey, made, profile, course)
        elif number:
            why = course.breaks_off(0, profile)
            found += [Unknown.of(effect.fault, why) for effect in lot.effects]
        else:
            raise SolveError(course.breaks_off(0, profile))
    return found, stops


def _flown(layout: Layout, survey: Survey, made: Batch, profile: Profile) -> Course:
    seen: list[Moment] = []
    demands = made.feeding.plumbed.demands
    engines = engines_for(layout, survey, demands)
    flow = made.feeding.flow[:, : len(profile.duration)]
    leaks = ["", *(one.fault.part if one.leak else "" for one in made.effects)]
    slugs = slugs_for(layout, survey, demands, profile.duration, flow, leaks)
    march(
        made.tanks,
        Stretches(profile.duration, made.index),
        made.start,
        made.balancing(),
        stop=_all_stopped,
        see=seen.append,
        flame_out=engines.flame_out,
    )
    return Course.of(made, seen, engines.flame_out.liquid, slugs)


def _all_stopped(moment: Moment) -> Flags:
    return np.asarray((moment.dry >= STOPS_AFTER).all(axis=1))
