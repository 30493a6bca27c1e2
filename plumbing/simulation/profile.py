"""A flight as arrays: what is asked of the fuel system, stretch by stretch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from plumbing.findings import Assumption
from plumbing.frozen import frozen
from plumbing.geometry.attitude import gravity_body, specific_force_to_gravity
from plumbing.model.flight import Phase
from plumbing.physics.arrays import Array, Flags, Indices

_MOST_STRETCHES = 20_000


@frozen
class Profile:
    """K stretches of flight in order, each with constant demand and effective gravity.

    Attributes
    ----------
    name : str
        Name of the flight.
    phase : tuple of str
        Name of the phase each stretch belongs to.
    duration : Array
        Shape (K,) [s].
    throttle : Array
        Fuel flow between idle (0) and full (1), shape (K,) [-].
    gravity : Array
        Effective gravity in body axes, shape (K, 3) [m/s2].
    airspeed : Array
        Shape (K,) [m/s]; 0 where not stated.
    airborne, gear_up : Flags
        Shape (K,).
    assumed : bool
        Whether this is a usual profile because the layout states no flight.
    flow : Array or None
        Flow of all engines together where it was recorded, shape (K,) [m3/s]; it counts instead
        of the throttle.
    surface : Array or None
        Direction across which the fuel lies in each of T tanks, shape (K, T, 3) [-]; by default
        that of gravity.
    assumptions : tuple of Assumption
        What a recording does not say.
    """

    name: str
    phase: tuple[str, ...]
    duration: Array
    throttle: Array
    gravity: Array
    airspeed: Array
    airborne: Flags
    gear_up: Flags
    assumed: bool = False
    flow: Array | None = None
    surface: Array | None = None
    assumptions: tuple[Assumption, ...] = ()

    @property
    def length(self) -> float:
        """Whole duration [s]."""
        return float(self.duration.sum())

    def aloft(self, time: Array) -> Array:
        """Time in the air until some moments, of any shape [s]."""
        ends = np.concatenate([[0.0], np.cumsum(self.duration)])
        flown = np.concatenate([[0.0], np.cumsum(self.duration * self.airborne)])
        return np.asarray(np.interp(time, ends, flown))

    def only(self, chosen: Indices) -> Profile:
        """Those stretches only, in that order, as often as they are named."""
        arrays = ("duration", "throttle", "gravity", "airspeed", "airborne", "gear_up")
        return replace(
            self,
            phase=tuple(self.phase[number] for number in chosen),
            flow=None if self.flow is None else self.flow[chosen],
            surface=None if self.surface is None else self.surface[chosen],
            **{name: getattr(self, name)[chosen] for name in arrays},
        )


def profile_of(name: str, phases: Sequence[Phase], assumed: bool = False) -> Profile:
    """Lay the phases of a flight out in order, groups repeated.

    Parameters
    ----------
    name : str
        Name of the flight.
    phases : sequence of Phase
        Phases, which may be repeated groups of phases.
    assumed : bool
        Whether the layout did not state them.

    Returns
    -------
    Profile
        At most 20 000 stretches; what would go beyond is left off.
    """
    flat = [one for one in _flat(phases) if one.duration]
    return Profile(
        name=name,
        phase=tuple(one.name for one in flat),
        duration=np.array([one.duration for one in flat], float),
        throttle=np.array([one.throttle or 0.0 for one in flat], float),
        gravity=np.array([_gravity(one) for one in flat], float).reshape(-1, 3),
        airspeed=np.array([one.airspeed or 0.0 for one in flat], float),
        airborne=np.array([not one.on_ground for one in flat], bool),
        gear_up=np.array([one.gear_up for one in flat], bool),
        assumed=assumed,
    )


def _flat(phases: Sequence[Phase]) -> Iterator[Phase]:
    for count, phase in enumerate(_unrolled(phases)):
        if count >= _MOST_STRETCHES:
            return
        yield phase


def _unrolled(phases: Sequence[Phase]) -> Iterator[Phase]:
    for phase in phases:
        for _ in range(phase.repeat):
            if phase.phases:
                yield from _unrolled(phase.phases)
            else:
                yield phase


def _gravity(phase: Phase) -> Array:
    if phase.felt is None:
        return gravity_body(phase.pitch, phase.roll)
    felt = phase.felt
    return specific_force_to_gravity(-felt.forward, felt.starboard, felt.up)
