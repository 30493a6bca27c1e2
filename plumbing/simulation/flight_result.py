"""What comes out of a flight. Plain values in SI."""

from __future__ import annotations

from collections.abc import Mapping

from plumbing.frozen import frozen
from plumbing.model.fields import Vector
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.books import Books
from plumbing.simulation.profile import Profile
from plumbing.simulation.tankage import Tankage


@frozen(eq=False)
class History:
    """A flight moment by moment: N moments, T tanks, C pockets in them, P pumps.

    Attributes
    ----------
    tanks, pumps : tuple of str
        Names.
    time : Array
        Shape (N,) [s].
    stretch : Indices
        Stretch of the profile each moment is in, shape (N,).
    volume : Array
        Fuel in each tank, shape (N, T) [m3].
    lying : Array
        Fuel as it lies, shape (N, C) [m3]: in each pocket, tank by tank.
    level : Array
        Height of its surface against effective gravity, shape (N, C) [m].
    tankage : Tankage
        The tanks under the directions of gravity it was flown with.
    direction : Indices
        Which of these directions, shape (N,).
    share : Array
        Liquid share each pump receives, shape (N, P) [-].
    flow : Array
        Flow each pump draws, shape (N, P) [m3/s].
    burnt : Array
        Fuel drawn so far by each pump, shape (N, P) [m3].
    outlets : tuple of str
        Nodes of the open outlets, O of them.
    spilt : Array
        Fuel lost so far through each outlet, shape (N, O) [m3].
    outside : Array
        Gauge pressure of the airstream at each outlet, shape (N, O) [Pa].
    suction : Array
        Suction at each pump inlet, shape (N, P) [Pa].
    pressure : Array
        Gauge pressure in each tank's gas space, shape (N, T) [Pa].
    cg : Array or None
        Centre of gravity with the fuel as it lies, shape (N, 3) [m]; None without dry mass.
    mass : Array or None
        Mass of the aircraft, shape (N,) [kg].
    moment : Array
        Rolling moment of the fuel about the centre line in level flight, shape (N,) [N m].
    """

    tanks: tuple[str, ...]
    pumps: tuple[str, ...]
    time: Array
    stretch: Indices
    volume: Array
    lying: Array
    level: Array
    tankage: Tankage
    direction: Indices
    share: Array
    flow: Array
    burnt: Array
    outlets: tuple[str, ...]
    spilt: Array
    outside: Array
    suction: Array
    pressure: Array
    cg: Array | None
    mass: Array | None
    moment: Array


@frozen
class Gasp:
    """Air that reaches a pump and its engine.

    Attributes
    ----------
    first : float or None
        When it first arrives at the pump [s]; None if never.
    at_engine : float or None
        When that air arrives at the engine [s]; None if never.
    longest : float
        Longest time without fuel [s].
    phase : str
        Phase in which it first arrives at the pump.
    """

    first: float | None
    at_engine: float | None
    longest: float
    phase: str


@frozen
class PocketLeft:
    """Fuel that stays in a pocket of a tank which nothing feeds from.

    Attributes
    ----------
    tank : str
        Name of the tank.
    volume : float
        Fuel in the pocket [m3].
    at : tuple of float
        Its lowest corner in level flight [m].
    ridge : float
        Height of the ridge that parts it, over that corner [m].
    baffled : bool
        Whether a baffle parts it, whose holes pass fuel slowly, up to the top of the tank.
    """

    tank: str
    volume: float
    at: Vector
    ridge: float
    baffled: bool


@frozen(eq=False)
class Flown:
    """One flight, and the same flown on until the engines stop.

    Attributes
    ----------
    profile, dry_profile : Profile
        What was flown, and what until every engine had stopped.
    history : History
        The flight as stated, to its end or to the first flame-out.
    dry_run : History
        That flown until every engine has stopped.
    flame_out : mapping of str to float or None
        When each pump's engine stops in the stated flight [s]; None if it does not.
    air_at_pump : mapping of str to Gasp
        Air at each pump in the stated flight.
    line_to_pump, line_to_engine : mapping of str to float
        What each pump draws before air that enters the line at the tank is at the pump, and at its
        engine [m3]; 0 where it is taken to arrive at once.
    air_in_header : mapping of str to float or None
        When air first enters each header in the stated flight [s].
    header_air : mapping of str to float
        Most air in each header in the stated flight [m3].
    order : tuple of (str, float)
        Tanks in the order in which they stopped giving fuel in the dry run, with the time [s].
    books : Books
        Where the fuel went in the stated flight.
    dry_books : Books
        Where it went in the dry run until fuel failed the engine that stopped first.
    pockets : tuple of PocketLeft
        What lay then in pockets that nothing feeds from, the aircraft brought back to level.
    uncovered, uncovered_still : mapping of str to float
        How long some of each port that feeds was out of fuel in the stated flight, as flown and
        with surfaces that follow the force felt at once [s].
    stops_first : str
        That engine; empty if none stopped.
    landed_with : float
        Usable fuel left at the end of the stated flight [m3]; 0 after a flame-out.
    reserve : float
        Fuel that should be left [m3].
    surfaces_at_reserve : mapping of str to tuple of Array
        Outlines of the fuel's surfaces in each tank when only the reserve is left, the aircraft
        level, shape (N, 3) each [m]; at the start if there never was more.
    endurance : float
        Time in the air until the first engine stops [s].
    to_reserve : float
        Time in the air until only the reserve is left [s].
    timer : float
        Timer to set from take-off: to the reserve, less a circuit and approach, rounded down [s].
    mean_flow : float
        Mean flow of all engines in the air [m3/s].
    """

    profile: Profile
    dry_profile: Profile
    history: History
    dry_run: History
    flame_out: Mapping[str, float | None]
    air_at_pump: Mapping[str, Gasp]
    line_to_pump: Mapping[str, float]
    line_to_engine: Mapping[str, float]
    air_in_header: Mapping[str, float | None]
    header_air: Mapping[str, float]
    order: tuple[tuple[str, float], ...]
    books: Books
    dry_books: Books
    pockets: tuple[PocketLeft, ...]
    uncovered: Mapping[str, float]
    uncovered_still: Mapping[str, float]
    stops_first: str
    landed_with: float
    reserve: float
    surfaces_at_reserve: Mapping[str, tuple[Array, ...]]
    endurance: float
    to_reserve: float
    timer: float
    mean_flow: float

    @property
    def duration(self) -> float:
        """Time until the stated flight ends, or the last engine has stopped before [s]."""
        stops = [time for time in self.flame_out.values() if time is not None]
        return max(stops) if len(stops) == len(self.flame_out) else self.profile.length

    @property
    def usable(self) -> float:
        """Fuel burnt until fuel failed the engine that stopped first in the dry run [m3]."""
        return sum(self.dry_books.burnt.values())

    @property
    def stranded(self) -> Mapping[str, float]:
        """Fuel in each tank at that moment [m3]."""
        return self.dry_books.left

    @property
    def on_board(self) -> float:
        """Fuel at start-up [m3]."""
        return self.books.start
