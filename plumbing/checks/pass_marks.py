"""What each bench reading must meet: the limits of the checks in force, read at the gauge."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from plumbing.checks.case import Case
from plumbing.checks.limits import limits_in_force
from plumbing.checks.materials import highest_celsius, hottest_fuel, share_of_rating
from plumbing.checks.sides import lines_of
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Tank
from plumbing.simulation.filling_result import TankFilled
from plumbing.simulation.peak_result import EnginePeak
from plumbing.studies.bench import Mark, Marks
from plumbing.studies.bench.still import UNPORTED

PRACTICE = "common practice"
_PRESSURE = {"blow-moulded": 20e3, "composite": 12e3, "printed": 12e3, "metal": 20e3}
_SUCTION = {"blow-moulded": 10e3, "composite": 5e3, "printed": 5e3, "metal": 10e3}
_SET = 0.9  # of what may not be exceeded: as near as a gauge is set [-]
_VACUUM_LOSS = 3e3  # of 30 kPa in 5 min [Pa]
_VENT_SUCTION = 500.0  # in a tank with a vent of its own at full flow [Pa]
_PARKED = 900.0  # how long it is left in each attitude [s]


def pass_marks(case: Case) -> Marks:
    """Marks of all bench tests.

    Raises
    ------
    LayoutError
        The file sets a limit that does not exist.
    """
    limits = limits_in_force(case.layout)
    engines = sorted(case.peak.engines.values(), key=lambda one: -one.flow)
    marks = (
        *_tanks(case, limits),
        *_filled(case, limits),
        *(mark for one in engines for mark in _engine(case, one, limits)),
        *_left(case, limits),
        *_outlets(case, limits),
        *_pressure_side(case, limits),
        *_balance(case),
    )
    found: dict[tuple[str, str], Mark] = {}
    for mark in marks:  # of engines that share a pump the larger one decides
        found.setdefault((mark.what, mark.part), mark)
    return Marks(tuple(found.values()))


def _fillings(case: Case) -> dict[str, TankFilled]:
    """Each tank as it is filled at the port that presses it most."""
    worst: dict[str, TankFilled] = {}
    for filled in case.filling.values():
        for name, tank in filled.tanks.items():
            if name not in worst or tank.pressure > worst[name].pressure:
                worst[name] = tank
    return worst


def _tanks(case: Case, limits: Mapping[str, float]) -> Iterator[Mark]:
    filled = _fillings(case)
    for name, tank in case.layout.tanks.items():
        wall = tank.wall
        usual = _PRESSURE.get(wall.kind) if wall else None
        if wall is None or usual is None:
            continue
        rule, least = PRACTICE, usual
        share = limits["tank-overpressured-while-filling"]
        if name in filled and share > 0.0 and filled[name].pressure / share > least:
            rule = "tank-overpressured-while-filling"
            least = filled[name].pressure / share
        if wall.proof_pressure is not None:
            least = min(least, _SET * wall.proof_pressure)
        how = "water round it, 2 min without bubbles or lasting change of shape"
        yield Mark("tank-pressure", name, "pressure", least, wall.proof_pressure, rule, how)
        suction, most = _SUCTION[wall.kind], None
        if wall.collapse_suction is not None:
            most = limits["tank-suction-near-collapse"] * wall.collapse_suction
            suction = min(suction, _SET * most)
        how = "5 min without a click or fold, loss at most 1 kPa, clunk free afterwards"
        yield Mark("tank-suction", name, "pressure", suction, most, PRACTICE, how)


def _filled(case: Case, limits: Mapping[str, float]) -> Iterator[Mark]:
    flow = case.layout.filling.flow
    for name, tank in _fillings(case).items():
        head = tank.pressure - tank.gas
        rises = []
        if name in case.survey.vented:
            rises = [(limits["vent-too-narrow-for-filling"] + head, "vent-too-narrow-for-filling")]
        if tank.rated is not None:
            share = limits["tank-overpressured-while-filling"]
            rises.append((share * tank.rated, "tank-overpressured-while-filling"))
        if rises:
            most, rule = min(rises)
            yield Mark("fill-pressure", name, "pressure", None, most, rule, flow=flow)


def _engine(case: Case, peak: EnginePeak, limits: Mapping[str, float]) -> Iterator[Mark]:
    layout, pump, flow = case.layout, peak.pump, peak.flow
    how = "from the plugged ends at the tanks to the pump, 30 kPa for 5 min, drawn twice"
    yield Mark("vacuum-loss", pump, "pressure", None, _VACUUM_LOSS, PRACTICE, how)
    how = "suction side under 0.3 m of fuel for 1 h, dry paper under every joint"
    yield Mark("wet-joints", pump, "count", None, 0.0, PRACTICE, how)
    most, rule = limits["inlet-suction-too-high"], "inlet-suction-too-high"
    yield Mark("inlet-suction", pump, "pressure", None, most, rule, flow=flow)
    for case_of in ("cold", "loaded", "dirty"):
        rule = f"{case_of}-suction-too-high"
        yield Mark(f"{case_of}-suction", pump, "pressure", None, limits[rule], rule)
    if pump in layout.pumps:
        least, ceiling = limits["pump-too-weak"] * flow, layout.engines[peak.engine].flow_ceiling
        rule = "pump-too-weak" if ceiling is None else "pump-too-weak, pump-can-overspeed-engine"
        how = "full voltage, through its own feed line"
        yield Mark("pump-flow", pump, "flow", least, ceiling, rule, how)
    if peak.header:
        held = capacity(layout.tanks[peak.header])
        share = limits["air-fills-header-in-flight"]
        rule = "air-fills-header-in-flight"
        yield Mark("header-air", peak.header, "volume", None, share * held, rule)
        most = held * UNPORTED / limits["header-too-small"] if limits["header-too-small"] else held
        yield Mark("unported-air", peak.header, "volume", None, most, "header-too-small")
    stated = layout.engines[peak.engine].stops.failsafe_time
    how = "transmitter off until fuel stops" + (f"; {stated:g} s stated" if stated else "")
    most = limits["failsafe-too-slow"]
    yield Mark("stop-time", peak.engine, "time", None, most, "failsafe-too-slow", how)


def capacity(tank: Tank) -> float:
    """What a tank holds brim-full [m3]."""
    return tank_mesh(tank).volume * (1.0 - tank.displaced)


def _left(case: Case, limits: Mapping[str, float]) -> Iterator[Mark]:
    share, total = limits["fuel-stranded"], 0.0
    for name, tank in case.layout.tanks.items():
        held = tank.fuel * capacity(tank)
        total += held
        if tank.role == "main":
            yield Mark("left-over", name, "volume", None, share * held, "fuel-stranded")
    yield Mark("left-over", "", "volume", None, share * total, "fuel-stranded")


def _outlets(case: Case, limits: Mapping[str, float]) -> Iterator[Mark]:
    rules = ("siphons-when-parked", "fuel-runs-out-when-parked")
    rule = min(rules, key=lambda name: limits[name])
    for name, tank in case.layout.tanks.items():
        if name in case.survey.vented:
            folds = tank.wall.collapse_suction if tank.wall else None
            share = limits["tank-suction-near-collapse"]
            most = _VENT_SUCTION if folds is None else min(_VENT_SUCTION, share * folds)
            said = PRACTICE if most == _VENT_SUCTION else "tank-suction-near-collapse"
            yield Mark(
                "vent-suction", name, "pressure", None, most, said, flow=case.layout.full_flow
            )
    for name in case.layout.outlets:
        yield Mark("siphon-rate", name, "flow", None, limits[rule] / _PARKED, rule)
        how = "idle flow, turned through inverted and both knife edges"
        most = limits["fuel-lost-in-flight"]
        yield Mark("vent-loss", name, "volume", None, most, "fuel-lost-in-flight", how)
    yield Mark("heat-loss", "", "volume", None, limits["expansion-spills"], "expansion-spills")


def _pressure_side(case: Case, limits: Mapping[str, float]) -> Iterator[Mark]:
    """What the weakest tube stands, with the margin that the rule wants."""
    hottest, share = hottest_fuel(case.layout), limits["tube-pressure-too-low"]
    stands = [
        tube.rated_pressure * share_of_rating(hottest, highest)
        for tube in {case.layout.tube_of(line) for line in lines_of(case, "pressure")}
        for highest in [highest_celsius(tube)]
        if tube.rated_pressure is not None and highest is not None
    ]
    if not stands or not share:
        return
    for name, pump in case.layout.pumps.items():
        stated = pump.dead_head
        how = "against the closed valve for at most 2 s, dry paper round every joint"
        how += f"; {stated / 1e3:.0f} kPa stated" if stated is not None else ""
        most, rule = min(stands) / share, "tube-pressure-too-low"
        yield Mark("dead-head-pressure", name, "pressure", None, most, rule, how)


def _balance(case: Case) -> Iterator[Mark]:
    aircraft = case.layout.aircraft
    if aircraft.cg_limits is not None:
        yield Mark("cg", "", "length", *aircraft.cg_limits, "cg-outside-limits")
    if aircraft.max_mass is not None:
        yield Mark("mass", "", "mass", None, aircraft.max_mass, "take-off-mass-too-high")
