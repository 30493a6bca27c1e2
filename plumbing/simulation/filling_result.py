"""What comes out of filling. Plain values in SI."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array
from plumbing.simulation.books import Books

LACKS = 0.01  # share of what it holds in the end that a full tank may lack


@frozen
class TankFilled:
    """One tank while filling through one port.

    Attributes
    ----------
    tank : str
        Name.
    begins, full : float or None
        When fuel first reaches it, and when it gains no more [s]; None if never.
    holds : float
        Fuel in it at the end [m3].
    trapped : float
        Air left in it at the end, in the filling attitude [m3].
    pressure_before : float
        Highest pressure at its lowest point before fuel leaves any outlet, gas and liquid
        together [Pa].
    pressure : float
        The highest of all, with the overflow line full of fuel up to its highest point and no
        help from its falling part [Pa].
    gas : float
        Gauge pressure of its gas space with the overflow full [Pa].
    rated : float or None
        Pressure its wall was proved to [Pa].
    """

    tank: str
    begins: float | None
    full: float | None
    holds: float
    trapped: float
    pressure_before: float
    pressure: float
    gas: float
    rated: float | None


@frozen
class Spill:
    """Fuel at one outlet while filling.

    Attributes
    ----------
    outlet : str
        Where it comes out.
    first : float
        When [s].
    flow : float
        Flow there at the end [m3/s].
    filling : tuple of str
        Tanks that still fill then.
    """

    outlet: str
    first: float
    flow: float
    filling: tuple[str, ...]


@frozen
class Pushed:
    """Fuel pushed towards a stopped engine while filling.

    Attributes
    ----------
    engine, pump : str
        The engine and the stopped pump before it.
    pressure : float
        Highest pressure at the pump [Pa].
    volume : float or None
        Fuel leaked through the pump until filling ends [m3]; None where the pump states no leak.
    """

    engine: str
    pump: str
    pressure: float
    volume: float | None


@frozen
class SafeFlow:
    """The highest filling flow at which no tank comes over its limit.

    Attributes
    ----------
    highest : float or None
        In whole ml/min, at most that of a large filling pump [m3/s]; None where not known.
    tank : str
        Tank that decides, or empty where none does up to that flow.
    why_not : str
        Why it is not known, in words; empty if it is.
    """

    highest: float | None
    tank: str
    why_not: str


@frozen(eq=False)
class Filled:
    """Filling through one port until nothing more is gained.

    Attributes
    ----------
    port : str
        The fill port.
    flow : float
        Flow at which it was filled [m3/s].
    assumed : bool
        Whether the layout states no flow.
    why_not : str
        Why nothing can be filled here, in words; empty if it can.
    time : Array
        Moments, shape (M,) [s].
    pushed_in : Array
        Fuel pushed in until then, shape (M,) [m3].
    volume : Array
        Fuel in each tank of the layout, shape (M, T) [m3].
    tanks : mapping of str to TankFilled
        Every tank fuel reaches.
    missed : mapping of str to str
        Every other tank, and why it gets nothing, in words.
    books : Books
        Where all the fuel went.
    spills : tuple of Spill
        Outlets fuel comes out of, first to spill first.
    port_pressure : float
        Pressure at the fill port at the end, the overflow full of fuel [Pa].
    pump_limits : float or None
        Flow left when the overflow runs full, where the filling pump cannot give more [m3/s].
    closed_pressure : float or None
        Pressure that every tank takes if filling goes on against a closed vent [Pa]; None where
        the filling pump's largest pressure is not stated.
    safe : SafeFlow or None
        The highest safe flow; None where nothing can be filled.
    reversed_filters, reversed_pickups : tuple of str
        Filters and fine-pore pickups that fuel is pushed through backwards.
    pushed : tuple of Pushed
        Engines fuel is pushed towards.
    names : tuple of str
        All tanks of the layout, as in `volume`.
    """

    port: str
    flow: float
    assumed: bool
    why_not: str
    time: Array
    pushed_in: Array
    volume: Array
    tanks: Mapping[str, TankFilled]
    missed: Mapping[str, str]
    books: Books
    spills: tuple[Spill, ...]
    port_pressure: float
    pump_limits: float | None
    closed_pressure: float | None
    safe: SafeFlow | None
    reversed_filters: tuple[str, ...]
    reversed_pickups: tuple[str, ...]
    pushed: tuple[Pushed, ...]
    names: tuple[str, ...]

    @property
    def duration(self) -> float:
        """Time until all that is gained is on board, but for a stated little [s]."""
        return float(np.interp((1.0 - LACKS) * self.on_board, self.volume.sum(axis=1), self.time))

    @property
    def on_board(self) -> float:
        """Fuel on board at the end [m3]."""
        return float(self.volume[-1].sum()) if len(self.volume) else 0.0

    def at(self, pushed_in: float) -> dict[str, float]:
        """Fuel in each tank after so much was pushed in [m3]."""
        return {
            name: float(np.interp(pushed_in, self.pushed_in, self.volume[:, number]))
            for number, name in enumerate(self.names)
        }
