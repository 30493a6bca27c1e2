"""The flight assumed where a layout states none, by flight style: common practice, no source.

Throttle is fuel flow between idle and full, so that the mean over the airborne phases comes to
about 0.45 for scale, 0.55 for sport and 0.70 for hard aerobatic flying.
"""

from __future__ import annotations

import math
from typing import Literal

from plumbing.model.flight import Felt, Phase
from plumbing.simulation.profile import Profile, profile_of

Style = Literal["scale", "sport", "aerobatic"]


def _ground(name: str, seconds: float, throttle: float = 0.02) -> Phase:
    return Phase(name=name, duration=seconds, throttle=throttle, on_ground=True)


def _steady(
    name: str, seconds: float, throttle: float, pitch: float = 0.0, roll: float = 0.0
) -> Phase:
    return Phase(
        name=name,
        duration=seconds,
        throttle=throttle,
        pitch=math.radians(pitch),
        roll=math.radians(roll),
        airspeed=45.0,
        gear_up=True,
    )


def _felt(
    name: str, seconds: float, throttle: float, up: float, forward: float = 0.0, side: float = 0.0
) -> Phase:
    return Phase(
        name=name,
        duration=seconds,
        throttle=throttle,
        felt=Felt(forward=forward, starboard=side, up=up),
        airspeed=55.0,
        gear_up=True,
    )


_START = (_ground("start and warm up", 60.0), _ground("taxi out", 60.0, 0.05))
_TAKE_OFF = Phase(
    name="take-off run", duration=8.0, throttle=1.0, felt=Felt(forward=0.7), airspeed=20.0
)
_CLIMB = _steady("climb", 12.0, 1.0, pitch=25.0)
_LANDING = (
    _steady("downwind", 25.0, 0.25),
    _steady("base turn", 8.0, 0.15, pitch=-4.0, roll=15.0),
    _steady("final approach", 20.0, 0.12, pitch=3.0),
    Phase(
        name="landing run",
        duration=8.0,
        throttle=0.0,
        felt=Felt(forward=-0.4),
        airspeed=15.0,
        on_ground=True,
    ),
    _ground("taxi in", 60.0, 0.05),
)

_BODIES: dict[str, tuple[Phase, ...]] = {
    "scale": (
        _steady("straight", 20.0, 0.42),
        _felt("level turn", 8.0, 0.5, up=1.5),
        _steady("fast pass", 6.0, 0.85, pitch=-2.0),
        _felt("pull up", 3.0, 0.6, up=3.0),
        _steady("descent", 8.0, 0.1, pitch=-10.0),
    ),
    "sport": (
        _steady("straight", 15.0, 0.45),
        _felt("level turn", 6.0, 0.6, up=2.5),
        _steady("fast pass", 6.0, 1.0, pitch=-3.0),
        _felt("pull up", 2.0, 1.0, up=5.0),
        _steady("vertical climb", 4.0, 1.0, pitch=80.0),
        _steady("inverted", 4.0, 0.6, roll=180.0),
        _steady("dive", 5.0, 0.05, pitch=-45.0),
        _steady("knife edge", 3.0, 0.8, roll=90.0),
    ),
    "aerobatic": (
        _steady("straight", 6.0, 0.55),
        _felt("hard pull", 3.0, 1.0, up=8.0),
        _steady("vertical climb", 6.0, 1.0, pitch=90.0),
        _felt("push over", 2.0, 0.7, up=-3.0),
        _steady("vertical dive", 4.0, 0.1, pitch=-90.0),
        _felt("pull out", 2.0, 0.8, up=7.0),
        _steady("knife edge", 6.0, 1.0, roll=90.0),
        _steady("inverted", 8.0, 0.7, roll=180.0),
        _felt("fast turn", 6.0, 0.8, up=5.0),
    ),
}

_REPEATS = {"scale": 9, "sport": 9, "aerobatic": 9}


def usual_phases(style: Style) -> tuple[Phase, ...]:
    """Phases of about eight minutes in the air in that style, with taxiing before and after."""
    body = Phase(name="body of flight", repeat=_REPEATS[style], phases=_BODIES[style])
    return (*_START, _TAKE_OFF, _CLIMB, body, *_LANDING)


def usual_profile(style: Style) -> Profile:
    """Flight assumed where the layout states none."""
    return profile_of(f"usual {style} flight", usual_phases(style), assumed=True)
