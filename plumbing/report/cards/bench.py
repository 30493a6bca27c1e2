"""The bench test card: every value that can be predicted, beside room for the measured one."""

from __future__ import annotations

from dataclasses import dataclass

from plumbing import units
from plumbing.report.words import figure
from plumbing.studies.bench import Prediction, Predictions

_LEAST = 5e-7  # less air than this is none [m3]
_GROUPS = {
    "Filling": ("fill-pressure", "fill-volume"),
    "Pump and suction": ("inlet-suction", "pump-flow"),
    "Drain-down": ("drain-time", "left-over"),
    "Parking": ("siphon-rate",),
}
_WORDS = {
    "fill-pressure": "pressure at the lowest point of {}",
    "fill-volume": "fuel taken through {}",
    "inlet-suction": "suction at the inlet of {}",
    "pump-flow": "flow of {}",
    "drain-time": "{} empty after",
    "left-over": "left in {}",
    "siphon-rate": "flow from {}",
}
_HOW = {
    "Filling": "Empty, level, engine shut-off closed, gauge on a spare port of the tank. Stop when "
    "fuel without bubbles runs from the overflow.",
    "Pump and suction": "Engine line into a measuring jug through the real valves and filter, "
    "vacuum gauge at the pump inlet. No bubbles may be seen.",
    "Drain-down": "From full tanks until the first bubble leaves the header; then weigh what is "
    "left. Repeat nose up and down 15 deg, left and right 20 deg.",
    "Parking": "Full tanks, 15 min in each attitude, then again with the vent line filled with "
    "fuel. A few drops are no loss.",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One value to measure."""

    words: str
    expected: str
    band: str
    how: str


@dataclass(frozen=True, slots=True)
class Group:
    """Values measured in one go."""

    title: str
    how: str
    rows: tuple[Row, ...]


def bench_card(predictions: Predictions) -> tuple[Group, ...]:
    """Rows of the card by test, in the order in which they are done."""
    groups = []
    for title, kinds in _GROUPS.items():
        found = [one for kind in kinds for one in _of_kind(predictions, kind)]
        rows = tuple(dict.fromkeys(_row(one) for one in found))
        if rows:
            groups.append(Group(title, _HOW[title], rows))
    return tuple(groups)


def _of_kind(predictions: Predictions, kind: str) -> list[Prediction]:
    """Predictions of a kind; of siphons the worst of each outlet only."""
    found = [one for one in predictions.values if one.what == kind]
    if kind != "siphon-rate":
        return found
    worst: dict[str, Prediction] = {}
    for one in found:
        if one.part not in worst or one.figure.value > worst[one.part].figure.value:
            worst[one.part] = one
    return list(worst.values())


def _row(one: Prediction) -> Row:
    whole = "all tanks" if one.what != "drain-time" else "first bubble at the pump: all"
    words = _WORDS[one.what].format(one.part or whole)
    if one.what == "siphon-rate" and one.figure.value <= 0.0:
        return Row(words, "none", "", one.how)
    value = units.show(one.figure.value, one.figure.kind)
    return Row(words, value, _band(one), one.how)


def _band(one: Prediction) -> str:
    said = figure(one.figure)
    return said.partition("(")[2].removesuffix(")")


def trapped(predictions: Predictions) -> tuple[tuple[str, str], ...]:
    """Air that stays in each tank after filling: tank and volume."""
    found: dict[str, str] = {}
    for filled in predictions.fillings.values():
        for tank in filled.tanks.values():
            found.setdefault(tank.tank, _air(tank.trapped))
    return tuple(found.items())


def _air(volume: float) -> str:
    """Air that can be measured at all."""
    return "none" if volume < _LEAST else units.show(volume, "volume", 2)
