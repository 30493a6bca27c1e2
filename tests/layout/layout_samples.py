"""A small layout that is right, and what a changed one is faulted for."""

from pathlib import Path

from plumbing.errors import Fault, LayoutError
from plumbing.layout import read
from plumbing.model.layout import Layout

LAYOUTS = Path(__file__).parents[2] / "layouts"
DEMOS = sorted(LAYOUTS.glob("*.yaml"))

SMALL = """\
format: 2
title: Small
origin: nose
engines:
  engine: {at: [900 mm, 0 mm, 0 mm], thrust: 60 N}
tanks:
  main:
    shape: {box: {at: [200 mm, 0 mm, 0 mm], size: [200 mm, 100 mm, 80 mm]}}
    ports:
      feed: {at: [200 mm, 0 mm, 40 mm], pickup: {kind: clunk, reach: 120 mm}}
      vent: {at: [120 mm, 0 mm, 40 mm]}
pumps:
  pump: {at: [600 mm, 0 mm, 0 mm], bore: 3 mm}
outlets:
  vent: {at: [120 mm, 90 mm, -60 mm], bore: 4 mm}
joints:
  barb: {kind: barb, bore: 3.6 mm}
lines:
  feed: {from: main.feed, to: pump.in, tube: polyurethane 6x4, joint: barb}
  pressure: {from: pump.out, to: engine, tube: nylon 4x2.5}
  vent: {from: main.vent, to: vent, tube: polyurethane 6x4, cut-length: 300 mm}
formers:
  F2: {station: 400 mm, thickness: 3 mm, material: plywood,
    outline: [[-80 mm, -80 mm], [80 mm, -80 mm], [80 mm, 80 mm], [-80 mm, 80 mm]],
    passages: {p1: {at: [0 mm, 20 mm], diameter: 9 mm}}}
flights:
  sport:
    phases:
      - {name: cruise, duration: 60 s, throttle: 50 %}
feed-order: [main]
"""


def small(**changes: str) -> str:
    """The small layout with texts replaced; each must be there once."""
    return changed(*changes.items())


def changed(*changes: tuple[str, str], text: str = SMALL) -> str:
    """A layout with texts replaced; each must be there once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} is there {text.count(old)} times"
        text = text.replace(old, new)
    return text


def faults_in(text: str, file: str = "a.yaml") -> tuple[Fault, ...]:
    """Faults of a layout text; none if it is right."""
    try:
        read(text, file)
    except LayoutError as error:
        return error.faults
    return ()


def only_fault(*changes: tuple[str, str]) -> Fault:
    """The one fault of the small layout with texts replaced."""
    found = faults_in(changed(*changes))
    assert len(found) == 1, "\n".join(map(str, found))
    return found[0]


def place_of(text: str, sought: str) -> tuple[int, int]:
    """Line and column at which a text begins, counted from 1."""
    before = text[: text.index(sought)]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def right(*changes: tuple[str, str]) -> Layout:
    """The small layout with texts replaced, which must have no fault."""
    return read(changed(*changes), "a.yaml")
