"""A flight as plain data for the page's time slider: fuel and its surface in every tank."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from plumbing.drawing.text import clean
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.physics.arrays import Array, Indices
from plumbing.results import NotComputed, known
from plumbing.simulation.flight_result import Flown, History
from plumbing.simulation.profile import Profile
from plumbing.simulation.vessel import Vessel

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
    runs = [
        (f"{flown.profile.name}, as stated", history, flown.profile),
        ("flown on until the engines stop", flown.dry_run, flown.dry_profile),
    ]
    return {
        "tanks": [_tank(layout, name) for name in history.tanks],
        "pumps": [clean(name) for name in history.pumps],
        "flights": [_flight(*run) for run in runs],
    }


def _tank(layout: Layout, name: str) -> dict[str, Any]:
    tank = layout.tanks[name]
    mesh = tank_mesh(tank)
    return {
        "name": clean(name),
        "header": tank.role == "header",
        "capacity": _round(_ML * mesh.volume * (1.0 - tank.displaced)),
    }


def _flight(name: str, history: History, profile: Profile) -> dict[str, Any]:
    kept = _kept(history)
    tanks, (ways, way) = history.tankage, np.unique(history.direction[kept], return_inverse=True)
    names = [clean(word) for word in dict.fromkeys(profile.phase)]
    of_phase = {word: place for place, word in enumerate(names)}
    data: dict[str, Any] = {
        "name": clean(name),
        "time": _list(history.time[kept], 2),
        "phases": names,
        "phase": [of_phase[clean(profile.phase[place])] for place in history.stretch[kept]],
        "directions": [_list(one, 5) for one in tanks.down[ways]],
        "direction": way.tolist(),
        "volume": _table(_ML * history.volume[kept], 1),
        "tank": tanks.tank.tolist(),
        "basins": [[_begins(one, way) for one in tanks.vessels] for way in ways.tolist()],
        "level": _table(history.level[kept], 5),
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


def _begins(vessel: Vessel, direction: int) -> str:
    """Pocket in which each face of a tank begins, a character each from 0 on; empty for but one."""
    if vessel.pools is None:
        return ""
    return "".join(chr(ord("0") + pocket) for pocket in vessel.begins(direction).tolist())


def _round(value: float, places: int = 1) -> float:
    return round(value, places) if math.isfinite(value) else 0.0


def _list(values: Array, places: int) -> list[float]:
    return [_round(float(value), places) for value in values]


def _table(values: Array, places: int) -> list[list[float]]:
    return [_list(row, places) for row in values]
