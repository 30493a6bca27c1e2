"""A flight as plain data for the page's time slider: fuel and its surface in every tank."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from plumbing.drawing.text import clean
from plumbing.geometry.cut import cut
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.physics.arrays import Array, Indices
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown, History
from plumbing.simulation.profile import Profile
from plumbing.simulation.room import room_of
from plumbing.simulation.tankage import distinct_directions

MOST = 500  # moments kept of each flight
_ML, _KILO, _ML_PER_MIN, _MM = 1e6, 1e-3, 6e7, 1e3


def moments(layout: Layout, flown: Flown | NotComputed) -> dict[str, Any]:
    """Tanks, pumps and moments of the stated flight and of the run until the engines stop.

    Parameters
    ----------
    layout : Layout
        The layout.
    flown : Flown or NotComputed
        The flight; without one there are no flights in the result.

    Returns
    -------
    dict
        Numbers in the units of the page: s, ml, kPa, ml/min, mm; levels and places in m.
    """
    if not known(flown):
        return {"tanks": [], "pumps": [], "flights": []}
    history = flown.history
    runs = [(f"{flown.profile.name}, as stated", history, flown.profile)]
    again = _again(flown)
    if again is not None:
        runs.append(("flown on until the engines stop", flown.dry_run, again))
    return {
        "tanks": [_tank(layout, name) for name in history.tanks],
        "pumps": [clean(name) for name in history.pumps],
        "flights": [_flight(layout, *run) for run in runs],
    }


def _again(flown: Flown) -> Profile | None:
    """Stretches of the dry run, rebuilt as the simulation repeats them."""
    profile, run = flown.profile, flown.dry_run
    aloft = np.flatnonzero(profile.airborne)
    if not aloft.size:
        aloft = np.arange(len(profile.duration))
    before, last = int(aloft[0]), int(run.stretch.max(initial=0))
    times = max(0, math.ceil((last + 1 - before) / len(aloft)))
    chosen = np.concatenate([np.arange(before), np.tile(aloft, times)]).astype(np.intp)
    return profile.only(chosen) if len(chosen) > last else None


def _tank(layout: Layout, name: str) -> dict[str, Any]:
    tank = layout.tanks[name]
    mesh = tank_mesh(tank)
    return {
        "name": clean(name),
        "header": tank.role == "header",
        "capacity": _round(_ML * mesh.volume * (1.0 - tank.displaced)),
        "at": [_round(float(value), 5) for value in mesh.centroid],
    }


def _flight(layout: Layout, name: str, history: History, profile: Profile) -> dict[str, Any]:
    kept = _kept(history)
    down, index = distinct_directions(profile.gravity[history.stretch[kept]])
    volume = history.volume[kept]
    names = [clean(word) for word in dict.fromkeys(profile.phase)]
    of_phase = {word: place for place, word in enumerate(names)}
    data: dict[str, Any] = {
        "name": clean(name),
        "time": _list(history.time[kept], 2),
        "phases": names,
        "phase": [of_phase[clean(profile.phase[place])] for place in history.stretch[kept]],
        "directions": [_list(one, 5) for one in down],
        "direction": index.tolist(),
        "volume": _table(_ML * volume, 1),
        "parted": [_parted(layout, name, down) for name in history.tanks],
        "level": _table(_levels(layout, history, volume, down, index), 5),
        "suction": _table(_KILO * history.suction[kept], 3),
        "flow": _table(_ML_PER_MIN * history.flow[kept], 1),
        "liquid": _table(history.share[kept], 3),
    }
    if history.cg is not None:
        data["cg"] = _list(_MM * history.cg[kept, 0], 1)
    return data


def _kept(history: History) -> Indices:
    """Places of the moments kept: both ends of every step as long as there are few enough."""
    count = len(history.time)
    if count <= MOST:
        return np.arange(count)
    steps = np.unique(np.linspace(0, count // 2 - 1, MOST // 2).astype(np.intp))
    return np.sort(np.concatenate([2 * steps, 2 * steps + 1]))


def _levels(layout: Layout, history: History, volume: Array, down: Array, index: Indices) -> Array:
    """Height of the surface against effective gravity in every tank, shape (N, T) [m]."""
    columns = []
    for number, name in enumerate(history.tanks):
        tank = layout.tanks[name]
        solid = cut(tank_mesh(tank), down, moments=False)
        share = max(1.0 - tank.displaced, 0.05)
        columns.append(solid.level_for(volume[:, number] / share, index))
    return np.stack(columns, axis=1)


def _parted(layout: Layout, name: str, down: Array) -> bool:
    """Whether fuel lies in several pockets of a tank, so that one surface would not be true."""
    return room_of(layout.tanks[name]).pockets(down) is not None


def _round(value: float, places: int = 1) -> float:
    return round(value, places) if math.isfinite(value) else 0.0


def _list(values: Array, places: int) -> list[float]:
    return [_round(float(value), places) for value in values]


def _table(values: Array, places: int) -> list[list[float]]:
    return [_list(row, places) for row in values]
