"""A small study, and what becomes of it."""

from pathlib import Path

from plumbing.errors import Fault, LayoutError
from plumbing.studies.study import Plan, load_study, plan_of

LAYOUT = """\
format: 1
title: Small
origin: nose
engines:
  engine: {at: [900 mm, 0 mm, 0 mm], full-flow: 200 ml/min, idle-flow: 30 ml/min}
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
flights:
  hop:
    phases:
      - {name: cruise, duration: 60 s, throttle: 50 %}
"""

STUDY = """\
study: 1
title: which tube, how full
layout: small.yaml
vary:
  lines.feed.tube: [polyurethane 6x4, polyurethane 8x5]
  tanks.main.fill: {low: 40 %, high: 100 %}
  fuel.temperature.usual: {low: -5 degC, high: 35 degC}
samples: 6
results: [suction, endurance, usable, stranded, flame-out, cg-aft]
"""


def written(folder: Path, text: str = STUDY, layout: str = LAYOUT) -> Path:
    """A study in a folder, beside its layout."""
    (folder / "small.yaml").write_text(layout, encoding="utf-8")
    path = folder / "study.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def changed(*changes: tuple[str, str], text: str = STUDY) -> str:
    """A study with texts replaced; each must be there once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} is there {text.count(old)} times"
        text = text.replace(old, new)
    return text


def planned(folder: Path, *changes: tuple[str, str]) -> Plan:
    """Its plan."""
    return plan_of(load_study(written(folder, changed(*changes))))


def faults_of(folder: Path, *changes: tuple[str, str]) -> tuple[Fault, ...]:
    """Faults of the study with texts replaced."""
    try:
        planned(folder, *changes)
    except LayoutError as error:
        return error.faults
    return ()
