"""Ways of fuel and air, worked out when asked for from a few spreads.

No way is searched by listing all: each spread is one breadth-first pass, and a single way is
read back from it.
"""

from __future__ import annotations

from dataclasses import field

from plumbing.frozen import frozen
from plumbing.network.build import Network
from plumbing.network.flows import Flows
from plumbing.network.openings import Opening
from plumbing.network.roles import Condition, PartKind, Role
from plumbing.network.runs import pickup_at
from plumbing.network.spread import Allow, Path, Trail, spread

FUEL_ROLES = (Role.SUCTION, Role.PRESSURE, Role.BALANCE)


@frozen
class FuelPath:
    """How fuel gets from a tank to an engine.

    Attributes
    ----------
    tank, engine : str
        Where it begins and ends.
    port : str
        Port by which fuel leaves the tank.
    pickup : str
        Kind of the pickup there, or empty.
    path : Path
        Parts, lines and ports from the tank to the engine; `path.tanks` begins with the tank.
    """

    tank: str
    engine: str
    port: str
    pickup: str
    path: Path


@frozen
class AirPath:
    """How air gets from the outside to a tank.

    Attributes
    ----------
    tank : str
        The tank.
    opening : str
        Outlet or open port the air comes from.
    through : tuple of str
        Tanks it passes before, outermost first; empty: directly.
    closed : tuple of str
        Plugs, caps and valves on the way that are closed in flight; empty: the way is open.
    path : Path
        Parts, lines and ports from the opening to the tank.
    """

    tank: str
    opening: str
    through: tuple[str, ...]
    closed: tuple[str, ...]
    path: Path

    @property
    def is_open(self) -> bool:
        """Nothing on the way is closed."""
        return not self.closed


@frozen
class Ways:
    """Spreads that the ways are read from."""

    network: Network = field(repr=False)
    flows: Flows = field(repr=False)
    openings: tuple[Opening, ...] = field(repr=False)
    nearest_fuel: Trail = field(repr=False)
    used: Trail = field(repr=False)
    open_air: Trail = field(repr=False)
    closed_air: Trail = field(repr=False)
    _engines: dict[str, Trail] = field(default_factory=dict, repr=False, compare=False)

    def to_engine(self, engine: str) -> Trail:
        """Spread backwards from an engine over all that feeds it."""
        if engine not in self._engines:
            self._engines[engine] = spread(
                self.network,
                (f"{engine}.feed",),
                _backwards(fuel_allowed(self.network, self.flows)),
            )
        return self._engines[engine]

    def fuel(self, tank: str, engine: str) -> FuelPath | None:
        """Way from a tank to an engine, through as few tanks as possible."""
        path = self.to_engine(engine).path(tank, from_start=False)
        return None if path is None else self._fuel_path(tank, engine, path)

    def shortest_fuel(self, engine: str) -> FuelPath | None:
        """Way to an engine from the tank nearest to it."""
        path = self.nearest_fuel.path(f"{engine}.feed")
        return None if path is None else self._fuel_path(path.parts[0], engine, path)

    def _fuel_path(self, tank: str, engine: str, path: Path) -> FuelPath:
        pickup = pickup_at(self.network, path.ports[0])
        return FuelPath(tank, engine, path.ports[0], pickup.kind if pickup else "", path)

    def air(self, tank: str) -> AirPath | None:
        """Way of air to a tank: an open one if there is one, else one that is closed."""
        path = self.open_air.path(tank) or self.closed_air.path(tank)
        if path is None:
            return None
        opening = next(o for o in self.openings if o.node == path.ports[0])
        closed: tuple[str, ...] = ()
        if tank not in self.open_air:
            shut = (opening.name,) if opening.closed_by else ()
            barred = self.closed_air.barred(tank, Condition.FLIGHT)
            closed = tuple(dict.fromkeys(shut + barred))
        through = tuple(name for name in path.tanks if name != tank)
        return AirPath(tank, opening.name, through, closed, path)


def ways(network: Network, found: Flows, openings: tuple[Opening, ...]) -> Ways:
    """All spreads of a layout."""
    fuel = fuel_allowed(network, found)
    air = air_allowed(network, found, Condition.FLIGHT)
    tanks = network.of_kind(PartKind.TANK)
    return Ways(
        network=network,
        flows=found,
        openings=openings,
        nearest_fuel=spread(network, tanks, fuel),
        used=spread(
            network,
            (f"{name}.feed" for name in network.of_kind(PartKind.ENGINE)),
            _backwards(fuel),
        ),
        open_air=spread(network, (o.node for o in openings if o.is_open), air),
        closed_air=spread(
            network,
            (o.node for o in openings if o.kind is not PartKind.DRAIN),
            air_allowed(network, found, Condition.OPEN),
        ),
    )


def fuel_allowed(network: Network, found: Flows) -> Allow:
    """Where fuel passes in flight: with the flow, out of tanks by the ports that give."""
    giving = frozenset(port for ports in found.givers for port in ports)
    balance = frozenset(
        node
        for number, role in found.role.items()
        if role is Role.BALANCE
        for node in (network.joins[number].start, network.joins[number].end)
    )

    def allow(number: int, forward: bool) -> bool:
        join = network.joins[number]
        if not join.passes(Condition.FLIGHT, forward):
            return False
        role = found.role.get(number)
        if role is not None:
            return role in FUEL_ROLES and found.allows(number, forward)
        if network.is_tank(join.end):
            return forward or join.start in giving or join.start in balance
        return True

    return allow


def air_allowed(network: Network, found: Flows, condition: Condition) -> Allow:
    """Where air comes in: with the flow on the suction side, either way elsewhere."""

    def allow(number: int, forward: bool) -> bool:
        return found.allows(number, forward) and network.joins[number].passes(condition, forward)

    return allow


def _backwards(allow: Allow) -> Allow:
    return lambda number, forward: allow(number, not forward)
