"""Files with keys taken out at random, and what is then said of them beside the full file."""

from __future__ import annotations

import io
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from ruamel.yaml import YAML

from plumbing.checks.causes import key
from plumbing.checks.examined import Examined, examine
from plumbing.checks.limits import limits_in_force
from plumbing.checks.registry import checks
from plumbing.findings import Guess, Severity
from plumbing.layout import read, starter
from plumbing.model.layout import Layout
from plumbing.model.meshes import tank_mesh
from plumbing.network import survey
from plumbing.network.lengths import line_length
from plumbing.simulation.peak import peak_flow
from plumbing.simulation.peak_result import EnginePeak
from plumbing.studies.bands import Bands, bands, laid

SUCTIONS: dict[str, Callable[[EnginePeak], float]] = {
    "inlet-suction-too-high": lambda one: one.suction.value,
    "cold-suction-too-high": lambda one: one.coldest.suction.value,
    "loaded-suction-too-high": lambda one: one.loaded.suction.value,
    "dirty-suction-too-high": lambda one: one.dirty.suction.value,
}
_SMALL = ("tees", "filters", "pumps", "valves", "connectors", "outlets", "fill-ports")
_COUNTS = (1, 2, 3, 5, 10, 20, 40, 1000)


@dataclass(frozen=True)
class Full:
    """A full file, and what is said of it."""

    text: str
    layout: Layout
    examined: Examined


@cache
def full(name: str) -> Full:
    """A starter, read and examined once."""
    text = starter(name)
    layout = read(text)
    return Full(text, layout, examine(layout))


def stripped(name: str, seed: int) -> str:
    """Text of a starter with one or more keys taken out."""
    whole, rng = full(name), random.Random(f"{name} {seed}")
    yaml = YAML(typ="rt")
    yaml.width = 10_000
    document = yaml.load(whole.text)
    every = list(_cuts(document, whole.layout))
    for cut in rng.sample(every, min(rng.choice(_COUNTS), len(every))):
        cut()
    out = io.StringIO()
    yaml.dump(document, out)
    return out.getvalue()


def _cuts(document: Any, layout: Layout) -> Iterator[Callable[[], object]]:
    """Each thing that can be taken out of a file."""
    for section in _SMALL:
        for part in document.get(section, {}).values():
            yield from (_without(part, one) for one in ("at", "bore"))
            if section == "filters":
                yield _without(part, "clean-drop", "dirty-drop")
    for engine in document["engines"].values():
        yield from (_without(engine, "at"), _without(engine, "full-flow", "idle-flow"))
    for name, tank in document["tanks"].items():
        yield _to_volume(tank, tank_mesh(layout.tanks[name]).volume)
        for port in tank["ports"].values():
            yield from (_without(port, one) for one in ("at", "bore"))
    for line in document["lines"].values():
        yield _without(line, "joint", "from-joint", "to-joint")
        yield from (_without(line, one) for one in ("cut-length", "tube"))


def _without(entry: Any, *keys: str) -> Callable[[], object]:
    return lambda: [entry.pop(one, None) for one in keys]


def _to_volume(tank: Any, volume: float) -> Callable[[], object]:
    """Of the shape only the volume is left, and with it go ports and baffles."""

    def cut() -> None:
        for one in ("shape", "ports", "baffles"):
            tank.pop(one, None)
        tank["capacity"] = f"{1e6 * volume:.6g} ml"

    return cut


def bands_of(layout: Layout) -> Bands:
    """Bands of a layout."""
    found = survey(layout)
    return bands(layout, found, peak_flow(layout, found), limits_in_force(layout))


def contradictions(name: str, layout: Layout) -> list[str]:
    """What is said of a stripped file and is not so in the full one, in words."""
    whole, found = full(name), examine(layout)
    said = []
    made = {(one.check, one.part): one.figure for one in bands_of(layout).bands}
    for engine, peak in whole.examined.case.peak.engines.items():
        own = found.case.peak.engines[engine]
        usual = (own.suction, own.coldest.suction, own.loaded.suction, own.dirty.suction)
        for (check, value), alone in zip(SUCTIONS.items(), usual, strict=True):
            low, high = made.get((check, own.pump), alone).band
            if not low - 1.0 <= value(peak) <= high + 1.0:
                said.append(f"{check}: {value(peak):.0f} Pa is not in {low:.0f} to {high:.0f} Pa")
    wrong = {key(one) for one in whole.examined.findings if one.severity is not Severity.ADVICE}
    clear, right = set(found.verdict.clear), set(whole.examined.verdict.clear)
    said += [f"clear: {check}, found at {part}" for check, part in wrong if check in clear]
    said += [
        f"told: {one.check}, {one.what}"
        for one in found.findings
        if one.check in right and not _asks_for_words(one.check)
    ]
    return said


def _asks_for_words(check: str) -> bool:
    """Whether a check finds that something is not stated, which is so in a short file."""
    subject = next(one.subject for one in checks() if one.name == check)
    return subject == "papers" or check.endswith("not-stated")


def as_it_is(name: str, layout: Layout, guess: Guess) -> Layout:
    """A stripped layout in which one thing is measured: as in the full file."""
    for path in guess.paths:
        value = _true(full(name).layout, layout, path)
        if value is not None:
            one = Guess((path,), guess.words, guess.kind, guess.low, guess.usual, guess.high)
            layout = laid(layout, {one: value})
    left = tuple(one for one in layout.guesses if one != guess)
    return replace(layout, guesses=left)


def _true(whole: Layout, layout: Layout, path: str) -> float | None:
    """Value of the full file at a key path; of a place, how far it is from where it was put."""
    section, name, *keys = path.split(".")
    part: Any = getattr(whole, section.replace("-", "_")).get(name)
    if part is None:
        return None
    match section, keys:
        case "lines", ["cut-length"]:
            return line_length(whole, part).used
        case "lines", ["joint"]:
            ends = [whole.joint_at(part, "from"), whole.joint_at(part, "to")]
            bores = [one.bore for one in ends if one and one.bore]
            return min(bores) if bores else None
        case "lines", ["tube"]:
            return whole.tube_of(part).inside_diameter
        case "tanks", ["ports", port, "bore"]:
            return part.ports[port].bore if port in part.ports else None
        case "tanks", ["shape", "size"]:
            return float(tank_mesh(part).size[2])
        case (("tanks" | "pumps"), ["floor" | "height" | "aft" as way]):
            axis = 0 if way == "aft" else 2
            return _spot(whole, name)[axis] - _spot(layout, name)[axis]
        case _, [only]:
            value: float | None = getattr(part, only.replace("-", "_"))
            return value
    return None


def _spot(layout: Layout, name: str) -> tuple[float, ...]:
    part = layout.part(name)
    if name in layout.tanks:
        low, high = tank_mesh(layout.tanks[name]).bounds
        return (*(0.5 * (low + high))[:2], low[2])
    at: tuple[float, ...] = part.at  # type: ignore[union-attr]
    return at
