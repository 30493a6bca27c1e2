"""What comes out of leaving an aircraft standing with fuel in it. Plain values in SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from plumbing.physics.arrays import Array
from plumbing.results import Results
from plumbing.simulation.vents_result import Vents

State = Literal["dry", "above", "runs", "siphons", "held", "capped"]


@dataclass(frozen=True, slots=True)
class OutletParked:
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
        of fuel; `held`: it would run or siphon, but no air gets in behind it; `capped`.
    head : float
        Surface of the fuel over the outlet [m]; negative when below.
    rise : float
        Highest point of the way over the surface [m]; negative when below.
    rate : float
        Flow to begin with, line full of fuel [m3/s]; 0 if dry, above or capped.
    loss : float
        Fuel lost in the end [m3]; for `held` what runs until the vacuum holds the rest.
    time : float
        Until all but a hundredth of it is lost [s]; 0 where nothing runs.
    """

    tank: str
    outlet: str
    lines: tuple[str, ...]
    state: State
    head: float
    rise: float
    rate: float
    loss: float
    time: float


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
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
    capped_pressure : float
        Gauge pressure with every vent capped [Pa]; an upper bound where no air is left.
    brim_full : bool
        Whether the growth is more than all air on board.
    over_rated : mapping of str to float
        Tanks proved to less than that, with their proof pressure [Pa].
    """

    celsius_from: float
    celsius_to: float
    grown: float
    share: float
    spilt: float
    capped_pressure: float
    brim_full: bool
    over_rated: Mapping[str, float]


@dataclass(frozen=True, slots=True)
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
    outlets : tuple of OutletParked
        Every way from a tank to an outlet.
    moved : mapping of str to float
        What each tank gains from others in that time, negative if it loses [m3]; only those
        where anything moves.
    spilt : float
        Fuel that leaves by itself meanwhile [m3].
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
    outlets: tuple[OutletParked, ...]
    moved: Mapping[str, float]
    spilt: float
    engines: tuple[EngineParked, ...]
    warmed: Warmed

    @property
    def on_board(self) -> float:
        """Fuel on board to begin with [m3]."""
        return sum(self.fuel.values())


@dataclass(frozen=True, slots=True, eq=False)
class Around:
    """Attitudes around level with all fuel on board.

    Attributes
    ----------
    pitch, roll : Array
        Shape (P,), (R,) [rad].
    loss : Array
        Most that one vent can lose once fuel runs in it, shape (P, R) [m3].
    runs : Array
        What runs out without priming, shape (P, R) [m3].
    head : Array
        Highest fuel over any engine, shape (P, R) [m].
    """

    pitch: Array
    roll: Array
    loss: Array
    runs: Array
    head: Array


@dataclass(frozen=True, slots=True, eq=False)
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
