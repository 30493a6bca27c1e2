"""What comes out of leaving an aircraft standing with fuel in it. Plain values in SI."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array
from plumbing.results import Results
from plumbing.simulation.books import Books
from plumbing.simulation.vents_result import Vents

LEAST = 1e-7  # a tenth of a millilitre: less does not count [m3]

State = Literal["dry", "above", "runs", "siphons", "held", "capped"]


@frozen
class WayParked:
    """One way from a tank to an outlet, aircraft left standing.

    Attributes
    ----------
    tank, outlet : str
        Where the way begins and ends.
    lines : tuple of str
        Lines passed.
    state : str
        `dry`: the tank's vent port stands in air; `above`: under fuel, but the outlet is higher
        than the fuel; `runs`: fuel runs out by itself; `siphons`: it runs once the line is full
        of fuel; `held`: the outlet is below the fuel, but the suction behind it holds
        the fuel; `capped`: also plugged, or closed by a valve.
    head : float
        Surface of the fuel over the outlet [m]; negative when below.
    rise : float
        Highest point of the way over the surface [m]; negative when below.
    """

    tank: str
    outlet: str
    lines: tuple[str, ...]
    state: State
    head: float
    rise: float


@frozen
class Lost:
    """Fuel lost through one outlet in a run.

    Attributes
    ----------
    rate : float
        Flow to begin with [m3/s].
    meanwhile, in_the_end : float
        Lost in the time parked, and when nothing moves any more [m3].
    time : float
        Until all but a hundredth of that is lost [s].
    """

    rate: float
    meanwhile: float
    in_the_end: float
    time: float


@frozen
class EngineParked:
    """Fuel standing over an engine.

    Attributes
    ----------
    engine, pump, tank : str
        The engine, the pump before it and the tank whose fuel stands highest.
    over_engine, over_pump : float
        Surface over the engine and over the pump's inlet [m]; negative when below.
    shut : tuple of str
        Valves closed on the way.
    open_rate : float or None
        Leak through the stopped pump with every valve open [m3/s]; None where the pump states
        no leak.
    leaked : float or None
        What leaks in the time parked, valves as stated [m3].
    """

    engine: str
    pump: str
    tank: str
    over_engine: float
    over_pump: float
    shut: tuple[str, ...]
    open_rate: float | None
    leaked: float | None


@frozen
class Warmed:
    """Fuel warmed from the filling temperature to the hottest of the place.

    Attributes
    ----------
    celsius_from, celsius_to : float
        [degC].
    grown : float
        Growth of all fuel on board [m3].
    share : float
        Growth over the fuel on board [-].
    spilt : float
        What the air space open to the vents does not take up [m3].
    capped_pressure : mapping of str to float
        Gauge pressure in each tank with every vent capped [Pa]; an upper bound where no air is
        left. Tanks that hang together share their air.
    brim_full : tuple of str
        Tanks in which the growth is then more than the air they share.
    over_rated : mapping of str to float
        Tanks proved to less than their pressure, with their proof pressure [Pa].
    """

    celsius_from: float
    celsius_to: float
    grown: float
    share: float
    spilt: float
    capped_pressure: Mapping[str, float]
    brim_full: tuple[str, ...]
    over_rated: Mapping[str, float]


@frozen
class Parked:
    """One parking or transport attitude.

    Attributes
    ----------
    name : str
        Name, as in the layout file.
    kind : str
        `parked` or `transport`.
    pitch, roll : float
        Nose up, starboard down [rad].
    duration : float
        How long [s].
    fuel : mapping of str to float
        Fuel in each tank to begin with [m3].
    capped : bool
        Whether the vents are capped.
    ways : tuple of WayParked
        Every way from a tank to an outlet.
    full : tuple of str
        Outlets whose vents are full of fuel at the start of the run that is told, the one of all
        starts that loses most in the time parked.
    lost : mapping of str to Lost
        What runs out in it, by outlet; only where anything does.
    books, final : Books
        Where the fuel is after the time parked, and when nothing moves any more.
    lasts : float
        Until then [s].
    engines : tuple of EngineParked
        Every engine.
    warmed : Warmed
        What the heat does.
    """

    name: str
    kind: str
    pitch: float
    roll: float
    duration: float
    fuel: Mapping[str, float]
    capped: bool
    ways: tuple[WayParked, ...]
    full: tuple[str, ...]
    lost: Mapping[str, Lost]
    books: Books
    final: Books
    lasts: float
    engines: tuple[EngineParked, ...]
    warmed: Warmed

    @property
    def on_board(self) -> float:
        """Fuel on board to begin with [m3]."""
        return self.books.start

    @property
    def moved(self) -> Mapping[str, float]:
        """What each tank gains in the time parked, negative if it loses [m3]; if anything."""
        gains = {name: left - self.fuel[name] for name, left in self.books.left.items()}
        return {name: gain for name, gain in gains.items() if abs(gain) > LEAST}

    def tanks_that(self, state: State, outlet: str) -> tuple[str, ...]:
        """Tanks with a way in that state to an outlet."""
        return tuple(way.tank for way in self.ways if (way.state, way.outlet) == (state, outlet))


@frozen(eq=False)
class Around:
    """Attitudes around level with all fuel on board.

    Attributes
    ----------
    pitch, roll : Array
        Shape (P,), (R,) [rad].
    head : Array
        Highest fuel over any engine, shape (P, R) [m].
    """

    pitch: Array
    roll: Array
    head: Array


@frozen(eq=False)
class Parkings:
    """All stated attitudes, and those around level.

    Attributes
    ----------
    attitudes : Results of Parked
        By name, as stated.
    around : Around
        Sweep.
    vents : Vents
        The vents as they are routed.
    """

    attitudes: Results[Parked]
    around: Around
    vents: Vents
