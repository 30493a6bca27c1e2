"""Tanks whose pickup has come off or is stuck, beside the tanks as drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.pickup import clunk_position
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.state import TankEnds, tank_ends
from plumbing.simulation.tankage import Tankage, tankage
from plumbing.simulation.vessel import Vessel
from plumbing.studies.fault_list import Effect

_FORWARD = np.array([[-1.0, 0.0, 0.0]])  # the way fuel and clunk go under hard braking


@frozen(eq=False)
class OutOfReach:
    """Fuel that stays below an opening in level flight, T tanks, for S scenarios.

    Attributes
    ----------
    usual, changed : Array
        Below the opening as drawn and where the fault puts it [m3], shape (S, T); 0 for tanks
        whose pickups are as drawn.
    """

    usual: Array
    changed: Array

    def more(self, volume: Array) -> Array:
        """Fuel out of reach because of the fault, of what is in the tanks [m3], shape (S,)."""
        kept = np.minimum(volume, self.changed) - np.minimum(volume, self.usual)
        total: Array = np.maximum(kept, 0.0).sum(axis=1)
        return total


def tank_variants(
    layout: Layout, plumbed: Plumbed, tanks: Tankage, found: Sequence[Effect], level: int
) -> tuple[TankEnds, Indices, OutOfReach]:
    """Ends of the branches for every variant, one after the other, and each scenario's variant.

    Parameters
    ----------
    layout : Layout
        The layout.
    plumbed : Plumbed
        Its circuit.
    tanks : Tankage
        Tanks as drawn, D directions.
    found : sequence of Effect
        The faults.
    level : int
        Direction of level flight.

    Returns
    -------
    TankEnds
        Directions 0 to D - 1 of the tanks as drawn, then D more for each variant.
    Indices
        Variant of each scenario, shape (S,); the first is 0.
    OutOfReach
        What each scenario keeps in its tanks.
    """
    pieces = [tank_ends(plumbed, tanks)]
    variant = np.zeros(len(found) + 1, dtype=np.intp)
    usual, below = (np.zeros((len(found) + 1, len(tanks.vessels))) for _ in range(2))
    for number, one in enumerate(found, 1):
        if one.pickup[0]:
            variant[number] = len(pieces)
            changed = _changed(layout, tanks, one.pickup, level)
            pieces.append(tank_ends(plumbed, changed))
            tank, port = tanks.names.index(one.pickup[0]), one.pickup[1]
            usual[number, tank] = tanks.vessels[tank].dry[port][level]
            below[number, tank] = changed.vessels[tank].dry[port][level]
    times = len(pieces)
    vessels = tuple(_repeated(vessel, times) for vessel in tanks.vessels)
    ends = replace(
        pieces[0],
        tanks=Tankage(vessels, np.tile(tanks.down, (times, 1))),
        pocket=np.concatenate([piece.pocket for piece in pieces]),
        dry=np.concatenate([piece.dry for piece in pieces]),
        span=np.concatenate([piece.span for piece in pieces]),
        height=np.concatenate([piece.height for piece in pieces]),
        lift=np.concatenate([piece.lift for piece in pieces]),
    )
    return ends, variant, OutOfReach(usual, below)


def _changed(layout: Layout, tanks: Tankage, pickup: tuple[str, str, str], level: int) -> Tankage:
    """Tanks with one pickup off or stuck."""
    name, port, how = pickup
    tank = layout.tanks[name]
    changed = without_pickup(tank, port) if how == "off" else _stuck(tank, port, how, tanks, level)
    number = list(layout.tanks).index(name)
    alone = tankage(
        replace(layout, tanks={name: changed}),
        tanks.down,
        moments=False,
        bags=(name,) if tanks.vessels[number].bag else (),
    )
    vessels = (*tanks.vessels[:number], alone.vessels[0], *tanks.vessels[number + 1 :])
    return replace(tanks, vessels=vessels)


def without_pickup(tank: Tank, name: str) -> Tank:
    """A pickup that has come off leaves its port open at the wall."""
    bare = replace(tank.ports[name], pickup=None, opens_at=None)
    return replace(tank, ports={**tank.ports, name: bare})


def _stuck(tank: Tank, name: str, how: str, tanks: Tankage, level: int) -> Tank:
    """A clunk that stays where it is."""
    port = tank.ports[name]
    pickup = port.pickup
    assert pickup is not None
    assert pickup.reach is not None
    down: Array = tanks.down[[level]] if how == "level" else _FORWARD
    clearance = 0.5 * (pickup.diameter or 0.0)
    x, y, z = clunk_position(tank_mesh(tank), port.at, pickup.reach, down, clearance)[0].tolist()
    fixed = replace(pickup, kind="fixed", swings=False, rest=(x, y, z))
    return replace(tank, ports={**tank.ports, name: replace(port, pickup=fixed)})


def _repeated(vessel: Vessel, times: int) -> Vessel:
    """The same tank with its directions repeated: its solid does not change."""
    cut = vessel.cut
    return replace(
        vessel,
        cut=replace(
            cut,
            down=np.tile(cut.down, (times, 1)),
            heights=np.tile(cut.heights, (times, 1)),
            volumes=np.tile(cut.volumes, (1, times, 1)),
            tip=np.tile(cut.tip, (times, 1)),
        ),
    )
