"""An aircraft left standing with fuel: every stated attitude, and those around level."""

from __future__ import annotations

import numpy as np

from plumbing.geometry.attitude import gravity_body
from plumbing.model.ground import Parking
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.network.vent_ways import VentWay, vent_ways
from plumbing.physics.arrays import Flags
from plumbing.results import NotComputed, Results
from plumbing.simulation.books import Books, by_tank, on_ground
from plumbing.simulation.flight import profile_for
from plumbing.simulation.ground import node_of, open_ways, outlet_names, surfaces, vented
from plumbing.simulation.parking_engines import engines_parked, shut
from plumbing.simulation.parking_heat import warmed
from plumbing.simulation.parking_result import LEAST, Around, Lost, Parked, Parkings
from plumbing.simulation.parking_run import ParkingRun, Standing, run_parking
from plumbing.simulation.parking_ways import ways_parked
from plumbing.simulation.setup import set_up
from plumbing.simulation.vent_routing import vents_of

_SWEEP = np.radians([-15.0, -10.0, -5.0, 0.0, 5.0, 10.0, 15.0])
_ALMOST = 0.99  # of what is lost in the end, after which it counts as lost


def park(layout: Layout, survey: Survey) -> Parkings:
    """Leave the layout standing in every stated attitude, and look at heads around level.

    Parameters
    ----------
    layout, survey
        The layout and its survey.

    Raises
    ------
    SolveError
        No line joins a tank to anything, or the network finds no steady state.
    """
    ways = [way for way in vent_ways(survey.network) if way.lines]
    attitudes = _stated(layout, survey, ways) if layout.parking else {}
    nothing = NotComputed("parking", "the layout states no attitude under parking", asked=False)
    vents = vents_of(layout, survey, profile_for(layout))
    return Parkings(Results(attitudes, nothing), _around(layout, survey), vents)


def _standing(
    layout: Layout, survey: Survey, ways: list[VentWay], pitch: list[float], roll: list[float]
) -> Standing:
    """The layout in attitudes, full and with nothing closed."""
    made = set_up(
        layout,
        survey,
        gravity_body(pitch, roll).reshape(-1, 3),
        closed=frozenset(),
        ports=True,
        centres=False,
    )
    network = vented(made, ways)
    full = made.tanks.filled([tank.fill for tank in layout.tanks.values()])
    return Standing(
        network=network,
        ways=tuple(open_ways(network, ways)),
        volume=np.repeat(full[None], len(pitch), axis=0),
        blocked=np.repeat(made.blocked, len(pitch), axis=0),
    )


def _stated(layout: Layout, survey: Survey, ways: list[VentWay]) -> dict[str, Parked]:
    stated = list(layout.parking.values())
    drawn = _standing(
        layout, survey, ways, [one.pitch for one in stated], [one.roll for one in stated]
    )
    standing = Standing(
        network=drawn.network,
        ways=drawn.ways,
        volume=np.array([one.fuel for one in stated])[:, None] * drawn.volume,
        blocked=np.stack([_blocked(layout, drawn, one) for one in stated]),
    )
    inside = [way for way in ways if node_of(drawn.network, f"{way.outlet.name}.tube") >= 0]
    runs = run_parking(standing)
    return {
        one.name: _parked(layout, survey, standing, inside, number, runs[number])
        for number, one in enumerate(stated)
    }


def _blocked(layout: Layout, standing: Standing, parking: Parking) -> Flags:
    """Ends closed while parked like that, shape (B, 2)."""
    plumbed = standing.network.plumbed
    closed = frozenset(n for n, valve in layout.valves.items() if shut(valve, parking))
    blocked = plumbed.blocked(closed)
    return blocked | standing.capped if parking.capped else blocked


def _parked(
    layout: Layout,
    survey: Survey,
    standing: Standing,
    ways: list[VentWay],
    number: int,
    runs: list[ParkingRun],
) -> Parked:
    parking = list(layout.parking.values())[number]
    told = max(runs, key=lambda run: (run.lost(parking.duration).sum(), run.spilt[-1].sum()))
    outlets = outlet_names(survey, standing.network.plumbed.outlets)
    hottest = parking.hottest
    return Parked(
        name=parking.name,
        kind=parking.kind,
        pitch=parking.pitch,
        roll=parking.roll,
        duration=parking.duration,
        fuel=by_tank(layout, standing.volume[number]),
        capped=parking.capped,
        ways=ways_parked(standing, ways, number, runs, parking.capped),
        full=tuple(outlet_names(survey, told.full)),
        lost={
            name: _lost(told, outlet, parking.duration)
            for outlet, name in enumerate(outlets)
            if told.spilt[-1, outlet] > LEAST
        },
        books=_books(layout, outlets, told, parking.duration),
        final=_books(layout, outlets, told, float(told.time[-1])),
        lasts=float(told.time[-1]),
        engines=engines_parked(layout, survey, standing, number, parking),
        warmed=warmed(
            layout,
            standing,
            number,
            layout.fuel.temperature.hottest if hottest is None else hottest,
        ),
    )


def _lost(run: ParkingRun, outlet: int, duration: float) -> Lost:
    so_far = run.spilt[:, outlet]
    first = int(np.argmax(so_far >= _ALMOST * so_far[-1]))
    around = slice(max(first - 1, 0), first + 1)
    return Lost(
        rate=float(run.rate[outlet]),
        meanwhile=float(run.lost(duration)[outlet]),
        in_the_end=float(so_far[-1]),
        time=float(np.interp(_ALMOST * so_far[-1], so_far[around], run.time[around])),
    )


def _books(layout: Layout, outlets: list[str], run: ParkingRun, after: float) -> Books:
    lost = dict(zip(outlets, run.lost(after).tolist(), strict=True))
    return Books(
        until=after,
        on_board=by_tank(layout, run.volume[0]),
        left=by_tank(layout, run.held(after)),
        lost=on_ground(lost),
    )


def _around(layout: Layout, survey: Survey) -> Around:
    """Heads around level, all fuel on board."""
    pitch, roll = (one.ravel() for one in np.meshgrid(_SWEEP, _SWEEP, indexing="ij"))
    standing = _standing(layout, survey, [], pitch.tolist(), roll.tolist())
    network, rows = standing.network, np.arange(len(pitch))
    highest = surfaces(network, standing.volume, rows).max(axis=1)
    down = network.tanks.down[network.index]
    engines = [-down @ np.array(engine.at) for engine in layout.engines.values()]
    head = highest - np.min(engines, axis=0) if engines else np.zeros_like(highest)
    return Around(_SWEEP, _SWEEP, head.reshape(len(_SWEEP), len(_SWEEP)))
