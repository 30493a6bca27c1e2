"""Filling through one port until fuel leaves the overflow steadily and nothing changes."""

from __future__ import annotations

import numpy as np

from plumbing.errors import SolveError
from plumbing.geometry.attitude import gravity_body
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.network.filling import Fill
from plumbing.network.vent_ways import vent_ways
from plumbing.physics.arrays import Array
from plumbing.results import NotComputed, Results, result_of
from plumbing.simulation.area import area_under
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.filling_flow import far_end, safe_flow
from plumbing.simulation.filling_result import Filled, Pushed, Spill, TankFilled
from plumbing.simulation.ground import (
    Ground,
    Moments,
    Watch,
    feeding_at,
    ground,
    solved,
)
from plumbing.simulation.march import march
from plumbing.simulation.moment import Stretches
from plumbing.simulation.setup import closed_while

USUAL_FLOW = 1e-3 / 60.0  # small electric filling pump, 1 L/min [m3/s]; common practice
LEAK_AT = 10e3  # pressure at which a pump's leak is stated [Pa]
_LONGEST = 4 * 3600.0
_STILL = 1e-4  # of the filling flow: a tank that gains less than this is full
_FULL = 2e-3  # share of what it holds in the end that a full tank may lack
_SPILLS = 0.02  # share of the filling flow that counts as running out
_PATIENCE = 600.0  # [s] after so long without being fuller, filling is over
_TOLERANCE = 5e-3


def fill(layout: Layout, survey: Survey, port: str | None = None) -> Filled:
    """Fill an empty layout.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    port : str, optional
        Fill port; by default the stated one, or the only one.

    Returns
    -------
    Filled
        Order and times, trapped air, pressures, overflow, the highest safe flow.

    Raises
    ------
    SolveError
        No line joins the port, or any tank, to anything, or no steady flow was found.
    KeyError
        There is no such fill port, or there are several and none is stated.
    """
    usual = survey.fill
    name = port or (usual.port if usual else next(iter(layout.fill_ports), ""))
    plan = survey.fills[name]
    stated = layout.filling
    flow = stated.flow or USUAL_FLOW
    gravity = gravity_body(stated.pitch, stated.roll)[None]
    grounded = ground(layout, survey, gravity, stated.temperature)
    node = grounded.node(f"{name}.tube")
    if node < 0:
        raise SolveError(f"no open line joins fill port {name} to a tank", name)
    blocked = grounded.plumbed.blocked(closed_while(layout, "filling"))[None]
    feeding = feeding_at(grounded, [(node, np.array([-flow]))], blocked=blocked)
    zero = np.zeros(1, dtype=np.intp)
    first = solved(feeding, zero, zero, np.zeros((1, len(layout.tanks))))
    if first.starved[0, node]:
        return _not_filled(layout, plan, flow, first.why())
    if not first.converged[0]:
        raise SolveError(first.why(), name)
    return _Filling(layout, survey, plan, grounded, feeding, flow).result()


def fill_all(layout: Layout, survey: Survey) -> Results[Filled]:
    """Fill through the stated port, then through every other that reaches a tank left empty."""
    usual = survey.fill
    names = list(dict.fromkeys(([usual.port] if usual else []) + list(layout.fill_ports)))
    filled: dict[str, Filled | NotComputed] = {}
    reached: set[str] = set()
    for name in names:
        reaches = set(survey.fills[name].filled)
        if not reached or not reaches or reaches - reached:
            filled[name] = filled_through(layout, survey, name)
            reached |= reaches
    return Results(filled, NotComputed("filling", "the layout has no fill port", asked=False))


def filled_through(layout: Layout, survey: Survey, port: str) -> Filled | NotComputed:
    """Fill an empty layout through one port."""
    return result_of(f"filling through {port}", lambda: fill(layout, survey, port), port)


def _not_filled(layout: Layout, plan: Fill, flow: float, why: str) -> Filled:
    tanks = len(layout.tanks)
    return Filled(
        port=plan.port,
        flow=flow,
        assumed=layout.filling.flow is None,
        why_not=why,
        time=np.zeros(1),
        litres=np.zeros(1),
        volume=np.zeros((1, tanks)),
        tanks={},
        spills=(),
        port_pressure=layout.filling.pump_pressure or 0.0,
        pump_limits=0.0,
        closed_pressure=layout.filling.pump_pressure,
        safe=None,
        reversed_filters=plan.reversed_filters,
        reversed_pickups=plan.reversed_pickups,
        pushed=(),
        names=tuple(layout.tanks),
    )


class _Filling:
    """One filling under way."""

    def __init__(
        self,
        layout: Layout,
        survey: Survey,
        plan: Fill,
        grounded: Ground,
        feeding: Feeding,
        flow: float,
    ) -> None:
        self.layout, self.survey, self.plan = layout, survey, plan
        self.grounded, self.feeding, self.flow = grounded, feeding, flow
        self.zero = np.zeros(1, dtype=np.intp)
        seen = self._march()
        self.time, self.volume = seen.time(0), seen.volume(0)
        self.litres = self.time * flow
        self.most = layout.filling.pump_pressure or np.inf
        rows = np.zeros(len(self.time), dtype=np.intp)
        self.solved = solved(feeding, rows, rows, self.volume)
        self.head = grounded.head(self.volume, rows)

    def _march(self) -> Moments:
        still = np.array([_STILL * self.flow])
        watch = Watch(self.feeding, self.zero, still, _PATIENCE)
        seen = Moments()
        tanks = self.grounded.tanks
        march(
            tanks,
            Stretches(np.array([_LONGEST]), self.grounded.index),
            np.zeros((1, len(tanks.vessels))),
            watch.balance,
            stop=watch.settled,
            see=seen,
            tolerance=_TOLERANCE,
        )
        return seen

    def result(self) -> Filled:
        """Everything there is to say."""
        safe = safe_flow(self.layout, self.feeding, self.volume[-1:], self.crest())
        limits, limit = None, self.layout.filling.pump_pressure
        if limit is not None and far_end(safe, self.flow)[1] > limit:
            limits = float(np.interp(limit, safe.port, safe.flow, left=0.0))
        pressure, port = far_end(safe, self.flow if limits is None else limits)
        spills = tuple(sorted(self._spills(), key=lambda spill: spill.first))
        return Filled(
            port=self.plan.port,
            flow=self.flow,
            assumed=self.layout.filling.flow is None,
            why_not="",
            time=self.time,
            litres=self.litres,
            volume=self.volume,
            tanks={one.tank: one for one in self._tanks(spills, pressure)},
            spills=spills,
            port_pressure=port,
            pump_limits=limits,
            closed_pressure=limit,
            safe=safe,
            reversed_filters=self.plan.reversed_filters,
            reversed_pickups=self.plan.reversed_pickups,
            pushed=tuple(self._pushed()),
            names=tuple(self.layout.tanks),
        )

    def crest(self) -> float:
        """Height of the overflow's highest point over its outlet [m]."""
        down = self.grounded.down()
        heights = [
            float(way.crest(down)[0] + down[0] @ np.array(way.outlet.at))
            for way in vent_ways(self.survey.network)
            if way.tank.name in self.plan.filled
        ]
        return max(heights, default=0.0)

    def _tanks(self, spills: tuple[Spill, ...], pressure: Array) -> list[TankFilled]:
        plumbed = self.grounded.plumbed
        until = spills[0].first if spills else np.inf
        before = self.time < until
        gas = self.solved.pressure[:, plumbed.tank_node]
        found = []
        for number, vessel in enumerate(self.grounded.tanks.vessels):
            held = self.volume[:, number]
            if plumbed.tank_node[number] < 0 or held[-1] <= 0.0:
                continue
            wall = self.layout.tanks[vessel.name].wall
            lowest = gas[:, number] + self.head[:, number]
            found.append(
                TankFilled(
                    tank=vessel.name,
                    begins=_first(self.time, held > _FULL * held[-1]),
                    full=_first(self.time, held >= (1.0 - _FULL) * held[-1]),
                    holds=float(held[-1]),
                    trapped=max(float(vessel.capacity - held[-1]), 0.0),
                    pressure_before=min(float(lowest[before].max(initial=0.0)), self.most),
                    pressure=float(pressure[number]),
                    gas=float(pressure[number] - self.head[-1, number]),
                    rated=wall.proof_pressure if wall else None,
                )
            )
        return sorted(found, key=lambda one: (one.full or 0.0, one.begins or 0.0))

    def _spills(self) -> list[Spill]:
        circuit, plumbed = self.feeding.plumbed.circuit, self.feeding.plumbed
        liquid = self.solved.flow * self.solved.share
        opened = {one.node: one.name for one in self.survey.openings}
        found = []
        for name, node in zip(plumbed.outlets, plumbed.outlet_node, strict=True):
            out = liquid[:, circuit.end == node].sum(axis=1)
            out = out - liquid[:, circuit.start == node].sum(axis=1)
            when = _first(self.time, out > _SPILLS * self.flow)
            if when is None:
                continue
            at = int(np.searchsorted(self.time, when))
            short = self.volume[at] < (1.0 - 10 * _FULL) * self.volume[-1]
            names = [n for n, lacks in zip(self.layout.tanks, short, strict=True) if lacks]
            found.append(Spill(opened[name], when, float(out[-1]), tuple(names)))
        return found

    def _pushed(self) -> list[Pushed]:
        found = []
        for way in self.plan.engines:
            pumps = [part for part in way.path.parts if part in self.layout.pumps]
            node = self.grounded.node(f"{pumps[0]}.in") if pumps else -1
            if not way.floods or node < 0:
                continue
            pressure = np.maximum(self.solved.pressure[:, node], 0.0)
            leak = self.layout.pumps[pumps[0]].leak_flow
            volume = None
            if leak is not None:
                volume = float(leak / LEAK_AT * area_under(pressure, self.time))
            found.append(Pushed(way.engine, pumps[0], float(pressure.max()), volume))
        return found


def _first(time: Array, when: Array) -> float | None:
    places = np.flatnonzero(when)
    return float(time[places[0]]) if places.size else None
