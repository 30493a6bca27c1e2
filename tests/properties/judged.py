"""Run everything on a layout text, and say what is wrong with what the tool made of it."""

import json
import time
from dataclasses import dataclass, fields, is_dataclass, replace
from enum import Enum

import numpy as np

from plumbing.checks.case import Case
from plumbing.checks.examined import Examined
from plumbing.checks.run import judge
from plumbing.errors import LayoutError, PlumbingError, SolveError
from plumbing.findings import Severity
from plumbing.hydraulics.solver import PRESSURE, VOLUME, solve
from plumbing.layout import read
from plumbing.report.as_json import check_data
from plumbing.report.fly_json import fly_data
from plumbing.report.subject import Subject
from plumbing.report.text import check_text
from plumbing.results import NotComputed
from plumbing.simulation.flight import feeding_for, fly, profile_for
from plumbing.simulation.peak_cases import peak_cases
from plumbing.simulation.peak_networks import solved_network

FEW = 13  # one in so many of the cases of peak flow
DEEP = 12  # levels of results looked into
BOOKS = 1e-6  # of the fuel on board that printed books may miss
MASS = 1e-9  # of the fuel on board that may be gained or lost in a flight


@dataclass(slots=True)
class Judged:
    """What came of one case."""

    outcome: str = "solved"
    wrong: tuple[str, ...] = ()
    seconds: float = 0.0
    mass: float = 0.0
    volume: float = 0.0
    pressure: float = 0.0
    moments: int = 0
    unconverged: int = 0


def judged(text, fly=True, thorough=True):
    """Read, solve, fly and examine a layout text; anything but our own errors is raised."""
    begun, result = time.perf_counter(), Judged()
    wrong = []
    try:
        layout = read(text, "random.yaml")
        case = Case(layout)
        _steady(layout, case.survey, result, wrong)
        if fly:
            _peaks(case, wrong)
            _flight(layout, case, result, wrong)
        if thorough:
            _findings(case, result, wrong)
    except LayoutError as error:
        result.outcome = "faults in the file"
        wrong += [] if error.faults else ["a refused file without faults"]
    except PlumbingError as error:
        result.outcome = "not flown"
        wrong += [] if str(error).strip() else ["an error that says nothing"]
    result.wrong, result.seconds = tuple(wrong), time.perf_counter() - begun
    return result


def _peaks(case, wrong):
    peak = case.peak
    named = set(peak.engines) | {why.part for why in peak.engines.missing}
    if named != set(case.layout.engines):
        wrong.append("peak flow: an engine is neither solved nor named")
    missing = peak.engines.missing
    wrong += [f"peak flow: no reason for {why.part}" for why in missing if not why.reason]
    wrong += [f"peak flow: {path}" for path in not_finite(peak)]


def _steady(layout, survey, result, wrong):
    """Solve a few of the cases of peak flow; what is said to be solved must obey its laws."""
    whole = peak_cases(layout.aircraft, layout.fuel.temperature)
    few = slice(None, None, FEW)
    cases = replace(
        whole,
        celsius=whole.celsius[few],
        load=whole.load[few],
        gravity=whole.gravity[few],
        dirty=whole.dirty[few],
    )
    try:
        solved = solved_network(layout, survey, cases)
    except SolveError:
        return
    plumbed = solved.feeding.plumbed
    demand = plumbed.demand(solved.feeding.flow[0])
    _obeys(plumbed, demand, solved.solution, result, wrong)


def _flight(layout, case, result, wrong):
    flown = fly(layout, case.survey)
    result.outcome = "flown"
    for history in (flown.history, flown.dry_run):
        result.mass = max(result.mass, mass_residual(history))
    if not result.mass <= MASS:
        wrong.append(f"mass: {result.mass:.3g} of the fuel is gained or lost")
    wrong += [f"flight: {path}" for path in not_finite(flown)]
    printed = fly_data(flown)
    json.dumps(printed, allow_nan=False)
    for name, books in printed["books"].items():
        if not abs(unbalanced(books)) <= BOOKS:
            wrong.append(f"books until {name}: {unbalanced(books):.3g} of the fuel is missing")
    feeding, history = feeding_for(layout, case.survey, profile_for(layout)), flown.history
    rows = np.zeros(len(history.time), dtype=np.intp)
    conditions = feeding.conditions(rows, history.stretch, history.volume)
    solved = solve(feeding.plumbed.circuit, conditions)
    _obeys(feeding.plumbed, conditions.demand, solved, result, wrong)


def unbalanced(books):
    """Fuel that printed books do not account for, as share of what was on board."""
    held = sum(books["on_board_m3"].values())
    out = [*books["burnt_m3"].values(), *books["left_m3"].values()]
    out += [entry["volume_m3"] for entry in books["lost"]]
    return (held - sum(out)) / max(held, 1e-6)


def mass_residual(history):
    """Largest fuel gained or lost so far, as share of what was on board."""
    held = history.volume.sum(axis=1)
    left = held[0] - held - history.burnt.sum(axis=1) - history.spilt.sum(axis=1)
    return float(np.abs(left).max() / max(held[0], 1e-6))


def _obeys(plumbed, demand, solved, result, wrong):
    """Note states that are called solved and are not, and those without answer or reason."""
    good = solved.converged
    result.moments += len(good)
    result.unconverged += int((~good).sum())
    result.volume = max(result.volume, float(solved.volume_residual[good].max(initial=0.0)))
    result.pressure = max(result.pressure, float(solved.pressure_residual[good].max(initial=0.0)))
    if result.volume > VOLUME or result.pressure > PRESSURE:
        wrong.append("solver: a state that is called solved misses its equations")
    arriving = solved.flow @ plumbed.gains
    free = ~plumbed.circuit.fixed
    missed = np.abs(arriving - demand)[good][:, free]
    if missed.size and missed.max() > 1e-8 * max(np.abs(solved.flow).max(), 1e-9):
        wrong.append(f"solver: {missed.max():.3g} m3/s vanish at a node")
    lost = np.flatnonzero(~good & ~solved.starved.any(axis=1))
    if lost.size:
        wrong.append(f"solver: {lost.size} states without answer: {solved.why(int(lost[0]))}")
    starved = np.flatnonzero(~good)[:1]
    wrong += ["solver: no reason" for at in starved if not solved.why(int(at)).strip()]


def _findings(case, result, wrong):
    examined = Examined(case, judge(case))
    verdict = examined.verdict
    wrong += [f"findings: {path}" for path in not_finite(verdict)]
    json.dumps(check_data(examined), allow_nan=False)
    check_text(Subject(examined), full=True)
    known = {f.check for f in verdict.findings} | {u.check for u in verdict.unchecked}
    if known & set(verdict.clear):
        wrong.append("findings: a check is both clear and not")
    wrong += [f"findings: {f.check} says nothing" for f in verdict.findings if not f.what.strip()]
    missing = _unanswered(case)
    wrong += [f"verdict: judged without {one}" for one in missing - set(verdict.not_judged)]
    if (missing or result.unconverged) and verdict.passes(Severity.UNSAFE):
        wrong.append("verdict: passed although a state has no answer")


def _unanswered(case):
    """Questions that the layout poses and that have no answer."""
    flight, parking = case.flight, case.parking
    found = [*case.peak.engines.missing, *case.filling.missing, *case.draining.missing]
    found += [flight] if isinstance(flight, NotComputed) else []
    found += [parking] if isinstance(parking, NotComputed) else parking.attitudes.missing
    return {one for one in found if one.asked}


def not_finite(value, path="result", depth=0):
    """Yield paths of numbers that are no numbers, through dataclasses, mappings and arrays."""
    if isinstance(value, float | np.floating | np.ndarray):
        array = np.asarray(value)
        if array.dtype.kind == "f" and not np.isfinite(array).all():
            yield path
    elif depth <= DEEP and not isinstance(value, str | Enum):
        for name, entry in _inside(value):
            yield from not_finite(entry, f"{path}.{name}", depth + 1)


def _inside(value):
    if is_dataclass(value):
        return [(entry.name, getattr(value, entry.name)) for entry in fields(value)]
    if hasattr(value, "items"):
        return list(value.items())
    return list(enumerate(value)) if isinstance(value, list | tuple) else []


__all__ = ["Judged", "judged", "mass_residual", "not_finite", "unbalanced"]
