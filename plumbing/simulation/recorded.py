"""A recorded flight as a profile: attitude or load factors to gravity, throttle or flow kept."""

from __future__ import annotations

import os

import numpy as np

from plumbing.findings import Assumption
from plumbing.geometry.attitude import gravity_body, specific_force_to_gravity
from plumbing.layout.logs import Recording, read_file, read_log
from plumbing.model.flight import Flight, Log
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array, Flags
from plumbing.physics.constants import GRAVITY
from plumbing.simulation.airstream import with_airspeed
from plumbing.simulation.compressed import (
    Samples,
    blocks,
    few_directions,
    stretches,
    with_direction,
)
from plumbing.simulation.profile import Profile

FLYING = 0.3  # share of its fastest airspeed above which an aircraft is in the air
SLOWEST = 8.0  # and not below this [m/s]
CLIMBED = 5.0  # height above the start that is in the air [m]
TILTED = 0.25  # change of gravity from level, in g, that no taxiing aircraft feels for long
HELD = 1.0  # time for which it must be felt [s]
FULL = 0.9  # share of the largest throttle that counts as full


def profile_of_log(layout: Layout, flight: Flight) -> Profile:
    """Profile of a flight whose log the layout names.

    Raises
    ------
    LayoutError
        The log has faults: all of them, each with its place.
    """
    log = flight.log or Log(file="")
    folder = os.path.dirname(layout.place.file)
    return profile_of_recording(layout, read_log(log, folder), flight.name, log.smoothing)


def profile_of_file(
    layout: Layout, path: str | os.PathLike[str], log: Log | None = None
) -> Profile:
    """Profile of a log given by its path, with the usual column names or stated ones.

    Raises
    ------
    LayoutError
        The log has faults: all of them, each with its place.
    """
    recording = read_file(path, log)
    smoothing = (log or Log(file="")).smoothing
    return profile_of_recording(layout, recording, os.path.basename(os.fspath(path)), smoothing)


def profile_of_recording(
    layout: Layout, recording: Recording, name: str, smoothing: float = 0.5
) -> Profile:
    """Profile of a recorded flight.

    Each row holds until the next. Noise is averaged over `smoothing` [s]; then neighbours are
    merged as long as gravity keeps its direction within 3 degrees and its size within 15 %, and
    flow keeps within 5 %, for at most 5 s unless nothing changes. Whole time and fuel are those
    of the recording.

    Parameters
    ----------
    layout : Layout
        For the flows of the engines.
    recording : Recording
        What was recorded.
    name : str
        What to call the flight.
    smoothing : float
        Noise is averaged over this [s].

    Returns
    -------
    Profile
        With `flow` where flow was recorded; the throttle then follows from it.
    """
    begin = recording.time[:-1]
    raw = _samples(recording)
    smooth = raw.merged(blocks(begin, smoothing))
    gravity = with_direction(smooth.gravity)
    smooth = Samples(smooth.duration, gravity, smooth.flow, smooth.others)
    aloft, by = _airborne(smooth, recording)
    merged = smooth.merged(group := stretches(smooth, aloft.astype(float)))
    gravity = few_directions(with_direction(merged.gravity), merged.duration)
    starts = np.concatenate([[0.0], np.cumsum(merged.duration)[:-1]])
    first = np.flatnonzero(np.diff(group, prepend=-1))
    measured = recording.flow is not None
    profile = Profile(
        name=name,
        phase=tuple(f"{_clock(at)} of the recording" for at in starts),
        duration=merged.duration,
        throttle=_throttle_of(layout, merged.flow) if measured else merged.flow,
        gravity=gravity,
        airspeed=np.maximum(merged.others[:, 0], 0.0),
        airborne=aloft[first],
        gear_up=np.zeros(len(first), dtype=bool),
        flow=merged.flow if measured else None,
        assumptions=(*recording.assumed, _flown(aloft[first], starts, merged.duration, by)),
    )
    return with_airspeed(layout, profile)


def _samples(recording: Recording) -> Samples:
    """Rows as samples; the last row only ends the one before it."""
    count = len(recording.time)
    airspeed = np.zeros(count) if recording.airspeed is None else recording.airspeed
    height = np.zeros(count) if recording.height is None else recording.height
    flow = recording.throttle if recording.flow is None else recording.flow
    if flow is None:
        flow = np.zeros(count)
    return Samples(
        duration=np.diff(recording.time),
        gravity=_gravity(recording)[:-1],
        flow=flow[:-1],
        others=np.stack([airspeed, height], axis=-1)[:-1],
    )


def _gravity(recording: Recording) -> Array:
    """Effective gravity of every row [m/s2]; load factors count before attitude."""
    if recording.felt is not None:
        forward, starboard, up = recording.felt.T
        return specific_force_to_gravity(-forward, starboard, up)
    none = np.zeros(len(recording.time))
    pitch = none if recording.pitch is None else recording.pitch
    roll = none if recording.roll is None else recording.roll
    return gravity_body(pitch, roll)


def _airborne(samples: Samples, recording: Recording) -> tuple[Flags, str]:
    """Which samples are in the air, and by what: airspeed, else height, else load, else throttle.

    With none of these the whole recording is taken to be.
    """
    airspeed, height = samples.others.T
    if recording.airspeed is not None and airspeed.max() > SLOWEST:
        fast = float(np.quantile(airspeed, 0.95))
        return _between(airspeed > max(SLOWEST, FLYING * fast)), "judged by airspeed"
    if recording.height is not None and (height > height[0] + CLIMBED).any():
        return _between(height > height[0] + CLIMBED), "judged by height"
    place, throttle = np.arange(len(samples.flow)), samples.flow
    rising = bool(throttle.max() > 1.2 * throttle.min())
    take_off = int(np.argmax(throttle >= FULL * throttle.max())) if rising else len(place)
    level = np.array([0.0, 0.0, -GRAVITY])
    active = np.linalg.norm(samples.gravity - level, axis=1) > TILTED * GRAVITY
    active &= _lasting(active, samples.duration) >= HELD
    if active.any():
        first, last = min(int(np.argmax(active)), take_off), int(np.flatnonzero(active)[-1])
        return (place >= first) & (place <= last), "judged by attitude, load and throttle"
    if rising:
        return place >= take_off, "judged by the first full throttle"
    return np.ones(len(place), dtype=bool), "nothing recorded tells"


def _between(flags: Flags) -> Flags:
    """From the first to the last that is true."""
    place = np.arange(len(flags))
    between: Flags = (place >= np.argmax(flags)) & (place <= np.flatnonzero(flags)[-1])
    return between


def _flown(aloft: Flags, starts: Array, duration: Array, by: str) -> Assumption:
    rows = np.flatnonzero(aloft)
    first, last = starts[rows[0]], starts[rows[-1]] + duration[rows[-1]]
    return Assumption("log: in the air", f"from {_clock(first)} to {_clock(last)}", by)


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"


def _lasting(flags: Flags, duration: Array) -> Array:
    """How long the run lasts in which each sample is [s]."""
    run = np.cumsum(np.diff(flags.astype(np.int8), prepend=flags[:1].astype(np.int8)) != 0)
    lasting: Array = np.bincount(run, weights=duration)[run]
    return lasting


def _throttle_of(layout: Layout, flow: Array) -> Array:
    """Throttle that belongs to a flow of all engines together."""
    engines = layout.engines.values()
    idle = sum(engine.idle_flow or 0.0 for engine in engines)
    full = sum(engine.full_flow or 0.0 for engine in engines)
    if full <= idle:
        return np.clip(flow / max(float(flow.max(initial=0.0)), 1e-12), 0.0, 1.0)
    return np.clip((flow - idle) / (full - idle), 0.0, 1.0)
