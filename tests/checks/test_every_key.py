"""Nothing written is ignored: each key of the layout file is read by more than its reader."""

import base64
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from overlay import overlaid, said

import plumbing
from plumbing.api.papers import asbuilt, report
from plumbing.checks.registry import checks
from plumbing.geometry import solids
from plumbing.geometry.mesh import Mesh
from plumbing.layout.forms import Form, Items, Record, Row, Section, Tagged, fields_of
from plumbing.model.base import Written
from plumbing.model.layout import Layout
from plumbing.report.asbuilt import asbuilt_json

HOUSE = Path(plumbing.__file__).parent
READERS = [str(HOUSE / name) for name in ("layout", "model")]
FILES = [str(HOUSE / "layout" / name) for name in ("logs", "stl.py")]  # what is read besides
READ_BY_THE_READER = {
    "Layout.format",  # says how the file is to be read
    "Photo.file",  # its content is what the papers show
    "Pickup.length",  # gives a reach that is not stated
}
LAYOUTS = HOUSE.parent / "layouts"
_PICTURE = (  # a grey point
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg=="
)
WITHOUT = """
flights: null
outlets: {vent: {pressure-coefficient: null}}
"""
EXTRA = """
tanks:
  main:
    baffles:
      - {at: 300 mm, open-share: 20 %, holes: [{at: [0 mm, -5 mm], diameter: 20 mm},
          {at: [0 mm, 55 mm], diameter: 3 mm}]}
    ports:
      feed: {pickup: {kind: fine-pore, swings: yes, length: 30 mm, area: 900 mm2, pore: 60 um,
        clean-drop: 0.3 kPa, dirty-drop: 0.8 kPa}}
      low: {at: [300 mm, 0 mm, -10 mm], bore: 3.6 mm}
lines:
  feed: {fittings: [{kind: elbow-90, bore: 3.6 mm, at: [300 mm, 0 mm, 110 mm]}], tube: own 6x4,
    to: felt.in, route: [[300 mm, 0 mm, 110 mm]], through: null, spare: 10 mm}
  on: {from: felt.out, to: header.in, tube: polyurethane 6x4, route: [[520 mm, 0 mm, 110 mm]],
    through: [F2.feed]}
  drain: {from: main.low, to: root.in, tube: polyurethane 6x4}
  out: {from: root.out, to: drain.tube, tube: polyurethane 6x4}
tubes:
  own 6x4: {outside-diameter: 6 mm, inside-diameter: 4 mm, material: polyurethane,
    linear-mass: 0.02 kg/m}
filters:
  felt: {at: [400 mm, 0 mm, 110 mm], bore: 3.6 mm, one-way: yes}
drains:
  drain: {at: [300 mm, 0 mm, -60 mm], bore: 4 mm, locks: yes}
connectors:
  root: {at: [300 mm, 50 mm, -30 mm], bore: 4 mm, self-closing: no}
zones:
  pod: {kind: keep-out, body: {capsule: {at: [300 mm, 900 mm, 0 mm], length: 90 mm,
    diameter: 30 mm}}}
  egg: {kind: keep-out, body: {ellipsoid: {at: [300 mm, 700 mm, 0 mm],
    size: [90 mm, 30 mm, 30 mm]}}}
  mould: {kind: keep-out, body: {mesh: {at: [300 mm, 800 mm, 0 mm], file: mould.stl, unit: mm}}}
  wedge: {kind: keep-out, body: {prism: {at: [300 mm, 600 mm, 0 mm], sections: [
    {station: 0 mm, outline: [[0 mm, 0 mm], [20 mm, 0 mm], [0 mm, 20 mm]]},
    {station: 50 mm, outline: [[0 mm, 0 mm], [20 mm, 0 mm], [0 mm, 20 mm]]}]}}}
  leg: {kind: moving, body: {box: {at: [300 mm, 900 mm, -90 mm], size: [9 mm, 9 mm, 90 mm]}},
    swings: {about: [300 mm, 900 mm, -45 mm], axis: y, by: 90 deg}, slides: [0 mm, 0 mm, 9 mm]}
aircraft:
  airframe: {box: {at: [600 mm, 0 mm, 60 mm], size: [1400 mm, 400 mm, 500 mm]}}
flights:
  recorded: {log: {file: flight.csv, columns: {throttle: stick}}}
measured:
  suction: {what: inlet-suction, part: pump, pressure: 4 kPa, at-flow: 200 ml/min,
    temperature: 18 degC, on: 1 May}
  filled: {what: fill-volume, part: fill, volume: 1.3 L}
  drained: {what: drain-time, time: 5 min}
  pumped: {what: pump-flow, part: pump, flow: 300 ml/min}
  weighed: {what: mass, mass: 14 kg, state: full, by: me, instrument: scales}
  balanced: {what: cg, length: 372 mm, state: full}
  tight: {what: wet-joints, count: 0}
photos:
  bay: {file: bay.png, part: pump, words: the pump in its bay, stage: built, on: "2026-05-01",
    by: me}
accepted:
  short spare: {check: no-spare-length, part: feed, reason: bench only, by: me,
    on: "2026-05-01"}
"""


def classes(form: Form, found: dict[type[Written], None]) -> dict[type[Written], None]:
    """All kinds of record of the layout file."""
    match form:
        case Record() if form.cls not in found:
            found[form.cls] = None
            for field in fields_of(form.cls).values():
                classes(field.form, found)
        case Section() | Items():
            classes(form.item, found)
        case Row():
            for item in form.items:
                classes(item, found)
        case Tagged():
            for cls in form.kinds.values():
                classes(Record(cls), found)
    return found


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> Iterator[set[tuple[str, str]]]:
    """Fields that code outside the reader asks for: class and name."""
    seen: set[tuple[str, str]] = set()

    def noted(self: Written, name: str) -> object:
        frame = sys._getframe(1)
        file = frame.f_code.co_filename
        while file.startswith(READERS[1]) and frame.f_back:  # the model's own look-ups count
            frame = frame.f_back  # for who asks
            file = frame.f_code.co_filename
        ours = file.startswith(str(HOUSE)) and not file.startswith(tuple(READERS))
        if ours or file.startswith(tuple(FILES)):
            seen.add((type(self).__name__, name))
        return object.__getattribute__(self, name)

    monkeypatch.setattr(Written, "__getattribute__", noted, raising=False)
    yield seen
    monkeypatch.undo()


@pytest.mark.slow
def test_every_key_is_read(
    read: set[tuple[str, str]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of an aircraft that has every kind of part, each key reaches a computation or a paper."""
    monkeypatch.chdir(tmp_path)
    rows = [f"{t},{30 + t % 7},0,0,1" for t in range(120)]
    head = "time,stick,felt-forward,felt-starboard,felt-up"
    Path("flight.csv").write_text("\n".join([head, *rows]) + "\n")
    Path("bay.png").write_bytes(base64.b64decode(_PICTURE))
    Path("mould.stl").write_text(_stl(solids.box((30.0, 20.0, 10.0))))
    layout = overlaid("single-main", EXTRA)
    plumbing.check(layout)
    plumbing.schedules(layout)
    report(layout, "html")
    report(layout, "pdf")
    asbuilt_json(layout, asbuilt(layout))
    plumbing.remedies(layout)
    plumbing.size(layout)
    plumbing.spread(layout, samples=64)
    plumbing.fly(layout, "recorded")
    plumbing.fly(overlaid("single-main", "simulation: {slosh: yes, slosh-damping: 4 %}"))
    plumbing.check(overlaid("single-main", WITHOUT))
    for check in checks():
        if check.name == "metal-tube-not-deburred":
            said(check, overlaid(check.starter, check.bad))
    for name in ("bad", "bag-main", "wings-into-main"):
        plumbing.check(LAYOUTS / f"{name}.yaml")
    missing = {
        f"{cls.__name__}.{key}"
        for cls in classes(Record(Layout), {})
        for key, field in fields_of(cls).items()
        if (cls.__name__, field.name) not in read
    } - READ_BY_THE_READER
    assert not missing, ", ".join(sorted(missing))


def _stl(mesh: Mesh) -> str:
    """A mesh as the text of an STL file."""
    rows = ["solid mould"]
    for corners in mesh.vertices[mesh.faces]:
        rows += ["facet normal 0 0 0", "outer loop"]
        rows += [f"vertex {x} {y} {z}" for x, y, z in corners]
        rows += ["endloop", "endfacet"]
    return "\n".join([*rows, "endsolid mould"])
