"""Where each port of a tank opens under a given effective gravity, and the heights that matter."""

from __future__ import annotations

from typing import Protocol

import numpy as np

from plumbing.frozen import frozen
from plumbing.geometry.mesh import Mesh
from plumbing.geometry.pickup import clunk_position
from plumbing.model.tank import Pickup, Port
from plumbing.physics.arrays import Array

USUAL_BORE = 4e-3  # where neither port nor tube states one


class Spanned(Protocol):
    """Directions across which fuel lies, and the heights between which a tank does, as in a cut."""

    @property
    def down(self) -> Array:
        """Unit vectors from the surface downwards, shape (D, 3)."""

    @property
    def bottom(self) -> Array:
        """Height of the lowest point [m], shape (D,)."""

    @property
    def top(self) -> Array:
        """Height of the highest point [m], shape (D,)."""


@frozen(eq=False)
class Opening:
    """The inner end of one port, for D directions of gravity.

    Attributes
    ----------
    port : str
        Name of the port.
    at : Array
        Where the port passes the wall [m], shape (3,).
    point : Array
        Centre of the opening [m], shape (D, 3).
    dry, covered : Array
        Surface heights at which it gives nothing but gas, and nothing but liquid [m], shape (D,).
    pore : float
        Largest pore of a fine-pore pickup [m]; 0 for any other opening.
    """

    port: str
    at: Array
    point: Array
    dry: Array
    covered: Array
    pore: float


def opening_of(port: Port, mesh: Mesh, cut: Spanned, bore: float, felt: Array) -> Opening:
    """Opening of a port.

    The liquid share falls through the height of the opening's own bore; a fine-pore body gives
    liquid as long as a little of it is wet. Both heights are kept inside the tank, so that an empty
    tank gives no liquid and a full one no gas.

    Parameters
    ----------
    port : Port
        Port of the layout.
    mesh : geometry.mesh.Mesh
        Tank solid.
    cut : Cut
        Its cut for the D directions.
    bore : float
        Bore of the opening [m].
    felt : Array
        Unit vectors along which a clunk hangs, shape (D, 3).
    """
    point = _points(port, mesh, felt)
    height = -np.einsum("dk,dk->d", cut.down, point)
    lower = height - 0.5 * _body(port.pickup, bore)
    depth = np.minimum(bore, cut.top - cut.bottom)
    dry = np.clip(lower, cut.bottom, cut.top - depth)
    pore = (port.pickup.pore or 0.0) if port.pickup else 0.0
    return Opening(port.name, np.array(port.at, float), point, dry, dry + depth, pore)


def _points(port: Port, mesh: Mesh, down: Array) -> Array:
    pickup = port.pickup
    if pickup is not None and pickup.reach and pickup.hangs:
        clearance = 0.5 * (pickup.diameter or 0.0)
        return clunk_position(mesh, port.at, pickup.reach, down, clearance)
    return np.broadcast_to(np.array(port.inner_end, float), down.shape)


def _body(pickup: Pickup | None, bore: float) -> float:
    """Height over which an opening takes liquid [m]: its bore, or a fine-pore body's size."""
    if pickup is None or pickup.kind != "fine-pore":
        return bore
    return max(bore, pickup.diameter or 0.0)
