"""The way from each tank to each outlet that vents it, as a chain of points."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from plumbing.frozen import frozen
from plumbing.model.fields import Vector
from plumbing.model.layout import port_bore, split_port
from plumbing.model.parts import Outlet
from plumbing.model.tank import Port, Tank
from plumbing.network.build import Network
from plumbing.network.lengths import route_points
from plumbing.network.roles import Barrier
from plumbing.network.spread import Path, spread
from plumbing.physics.arrays import Array


@frozen(eq=False)
class VentWay:
    """How a tank reaches the outside without passing another tank.

    Attributes
    ----------
    tank : Tank
        The tank.
    port : Port
        Its port the way begins at.
    outlet : Outlet
        Where the way ends.
    lines : tuple of str
        Lines passed, from the tank to the outlet.
    forward : tuple of bool
        Whether each of them is passed as it is written.
    parts, ports : tuple of str
        Parts and ports `part.port` passed, tank and outlet included.
    points : Array
        Corner points from the port to the outlet [m], shape (N, 3).
    bore : float
        Narrowest bore on the way [m].
    routed : bool
        Whether any of its lines has route points.
    """

    tank: Tank
    port: Port
    outlet: Outlet
    lines: tuple[str, ...]
    forward: tuple[bool, ...]
    parts: tuple[str, ...]
    ports: tuple[str, ...]
    points: Array
    bore: float
    routed: bool

    @property
    def peak(self) -> float:
        """Highest point of the way, aircraft level [m]."""
        return float(self.points[:, 2].max())

    def crest(self, down: Array) -> Array:
        """Highest point of the way against each direction of gravity (D, 3) [m], shape (D,)."""
        highest: Array = -(np.atleast_2d(down) @ self.points.T).min(axis=1)
        return highest


def vent_ways(network: Network) -> Iterator[VentWay]:
    """Ways from every outlet to the tanks it vents, plugs and closed valves taken as open."""
    layout = network.layout
    for outlet in layout.outlets.values():
        trail = spread(
            network,
            (f"{outlet.name}.tube",),
            lambda join, _: network.joins[join].barrier is not Barrier.PUMP,
            through_tanks=False,
        )
        for tank in layout.tanks.values():
            path = trail.path(tank.name, from_start=False)
            if path is not None:
                yield _way(network, tank, outlet, path)


def _way(network: Network, tank: Tank, outlet: Outlet, path: Path) -> VentWay:
    layout = network.layout
    places = {node: number for number, node in enumerate(path.ports)}
    points: list[Vector] = []
    forward: list[bool] = []
    for name in path.lines:
        join = next(j for j in network.joins if j.kind == "line" and j.name == name)
        corners = route_points(layout, layout.lines[name])
        forward.append(places[join.start] < places[join.end])
        points += corners if forward[-1] else corners[::-1]
    bores = [port_bore(layout.part(part), port) for part, port in map(split_port, path.ports)]
    bores += [layout.tube_of(layout.lines[name]).inside_diameter for name in path.lines]
    bores += [fit.bore for name in path.lines for fit in layout.lines[name].fittings]
    return VentWay(
        tank=tank,
        port=tank.ports[split_port(path.ports[0])[1]],
        outlet=outlet,
        lines=path.lines,
        forward=tuple(forward),
        parts=path.parts,
        ports=path.ports,
        points=np.array(points, dtype=np.float64),
        bore=min(bore for bore in bores if bore is not None),
        routed=any(layout.lines[name].route for name in path.lines),
    )
