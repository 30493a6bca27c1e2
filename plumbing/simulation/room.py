"""The room in a tank: its solid parted by the baffles whose holes are stated."""

from __future__ import annotations

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.basins import is_plain
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.parted import Passages, parted
from plumbing.geometry.pockets import Pockets, pockets
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.physics.arrays import Array
from plumbing.physics.holes import passes_at_once

HOLLOW = 0.3e-3  # a hollow less deep than this holds a film and no fuel to count [m]; our choice


@frozen(eq=False)
class Room:
    """Where fuel can be in a tank.

    Attributes
    ----------
    mesh : Mesh
        The solid, in pieces where baffles part it.
    wide, narrow : Passages or None
        Holes that fuel passes at once, and holes that it passes slowly; None where there are no
        baffles to part it.
    """

    mesh: Mesh
    wide: Passages | None = None
    narrow: Passages | None = None

    @property
    def is_hollow(self) -> bool:
        """Whether fuel or gas can lie in pockets of it at all, in some attitude."""
        return self.wide is not None or not is_plain(self.mesh)

    def pockets(self, down: Array) -> Pockets | None:
        """Pockets under D directions (D, 3); None where there is but one in each."""
        if not self.is_hollow:
            return None
        found = pockets(self.mesh, down, HOLLOW, self.wide)
        return found if found.tree.most > 1 else None


def room_of(tank: Tank, flow: float = 0.0) -> Room:
    """Room of a tank.

    Parameters
    ----------
    tank : Tank
        The tank.
    flow : float
        Flow [m3/s] that a hole must pass without a difference in level to be wide; by default all
        holes are, as for fuel that has the time it takes.
    """
    mesh = tank_mesh(tank)
    walls = [baffle for baffle in tank.baffles if baffle.holes]
    if not walls:
        return Room(mesh)
    holes = [(baffle.at, *hole.at, hole.diameter) for baffle in walls for hole in baffle.holes]
    table = np.array(holes)
    passages = Passages(table[:, :3], 0.5 * table[:, 3])
    wide = passes_at_once(np.pi * passages.radius**2, flow)
    pieces = parted(mesh, [baffle.at for baffle in walls])
    return Room(pieces, passages.only(wide), passages.only(~wide))
