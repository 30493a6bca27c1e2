"""What may not meet: the planted and the clean, and what the findings say."""

import json
import re
from io import StringIO

import numpy as np
import pytest
from aircraft import made, planted
from overlay import overlaid
from ruamel.yaml import YAML

from plumbing import layout as layout_files
from plumbing.checks.kit import Case, Found, Lacking
from plumbing.checks.registry import checks
from plumbing.checks.run import asked, judge

SPACE = tuple(
    check
    for check in checks()
    if check.name
    in (
        "battery-near-fuel",
        "electronics-near-fuel",
        "former-through-tank",
        "former-without-passage",
        "line-in-keep-out",
        "line-misses-passage",
        "line-near-hot-part",
        "line-near-moving-part",
        "line-near-wiring",
        "outside-airframe",
        "part-in-keep-out",
        "part-near-moving-part",
        "parts-overlap",
        "tank-in-keep-out",
        "tank-near-hot-part",
        "tank-near-moving-part",
        "tanks-too-near",
    )
)
NAMED = {check.name: check for check in SPACE}


def read(values):
    """Layout of plain values."""
    written = StringIO()
    YAML(typ="safe").dump(json.loads(json.dumps(values)), written)  # nothing shared
    return layout_files.read(written.getvalue(), "made.yaml")


def findings(layout):
    """What the checks of space find."""
    return judge(Case(layout), SPACE).findings


def said(name, fragment, limit=None):
    """What one check finds in the plainest starter with a fragment laid over it."""
    check = NAMED[name]
    layout = overlaid("single-main", fragment)
    usual = check.limit.value if limit is None and check.limit else limit or 0.0
    return [one for one in asked(check, Case(layout), usual) if isinstance(one, Found)]


@pytest.mark.parametrize(
    "seed", [*range(6), *(pytest.param(k, marks=pytest.mark.slow) for k in range(6, 40))]
)
def test_planted_overlap_is_found(seed):
    """One thing put into another is found, by one finding for the two."""
    rng = np.random.default_rng(seed)
    craft = made(rng)
    names = planted(craft, rng)
    found = findings(read(craft.file))
    about = [one for one in found if {one.part, *one.parts} >= names]
    assert len(about) == 1, (names, [one.what for one in found])
    assert "overlaps" in about[0].what or "not" in about[0].what


@pytest.mark.parametrize(
    "seed", [*range(10), *(pytest.param(k, marks=pytest.mark.slow) for k in range(10, 400))]
)
def test_clean_aircraft_is_clean(seed):
    """Where everything has room nothing is found."""
    assert [one.what for one in findings(read(made(np.random.default_rng(1000 + seed)).file))] == []


SPAR = """
zones:
  spar:
    kind: keep-out
    body: {box: {at: [430 mm, 0 mm, 110 mm], size: [12 mm, 300 mm, 60 mm]}}
"""
LEG = """
zones:
  nose leg:
    kind: keep-out
    body: {box: {at: [300 mm, 0 mm, 25 mm], size: [20 mm, 20 mm, 20 mm]}}
"""
IN_MAIN = """
tanks:
  header:
    shape: {cylinder: {at: [300 mm, 0 mm, 25 mm]}}
    ports: {in: {at: [300 mm, 0 mm, 55 mm]}, out: {at: [322 mm, 0 mm, 3 mm]}}
"""
CUT = "{formers: {F2: {station: 300 mm}}}"
RECEIVER = """
zones:
  receiver:
    kind: electronics
    body: {box: {at: [300 mm, 0 mm, 25 mm], size: [40 mm, 30 mm, 12 mm]}}
"""
PLANTED = [
    ("line-in-keep-out", SPAR, {"feed", "spar"}),
    ("tank-in-keep-out", LEG, {"main", "nose leg"}),
    ("tanks-too-near", IN_MAIN, {"main", "header"}),
    ("former-through-tank", CUT, {"main", "F2"}),
    ("electronics-near-fuel", RECEIVER, {"main", "receiver"}),
]


@pytest.mark.parametrize(("name", "fragment", "names"), PLANTED)
def test_every_kind_of_overlap_has_its_own_finding(name, fragment, names):
    """Spar, leg, header, former and receiver where they cannot be: each by its name, once."""
    (one,) = [one for one in said(name, fragment) if {one.part, *one.parts} == names]
    assert "overlaps" in one.what
    others = [check.name for check in SPACE if check.name != name]
    for other in others:
        assert not [x for x in said(other, fragment) if {x.part, *x.parts} == names], other


@pytest.mark.parametrize("shielded", ["yes", "no"])
def test_a_shield_lets_nothing_in(shielded):
    """A shield spares the distance, not the overlap."""
    fragment = RECEIVER.replace("kind:", f"shielded: {shielded}\n    kind:")
    assert said("electronics-near-fuel", fragment)


def test_the_place_and_the_way_out_are_said():
    """The spar lies 24 to 36 mm ahead of F2; its lower edge is at 80 mm, the tube 6 mm thick."""
    (one,) = said("line-in-keep-out", SPAR)
    ahead = re.search(r", ([0-9.]+) mm forward of F2;", one.what)
    assert ahead is not None
    assert 24 <= float(ahead[1]) <= 36
    assert "line feed moved 35 mm down is clear" in one.what  # 110 + 3 - (80 - 2)


@pytest.mark.parametrize(
    ("name", "fragment"),
    [
        ("tanks-too-near", IN_MAIN.replace("header:", "header:\n    inside: [main]")),
        (
            "former-through-tank",
            "{tanks: {main: {inside: [F2]}}, formers: {F2: {station: 300 mm}}}",
        ),
        ("tank-in-keep-out", LEG.replace("kind:", "inside: [main]\n    kind:")),
        ("line-in-keep-out", SPAR + "lines: {feed: {inside: [spar]}}"),
    ],
)
def test_what_is_inside_on_purpose_is_no_fault(name, fragment):
    """What the file says stands in something, or goes through it, is let be."""
    assert said(name, fragment) == []


def test_hundreds_of_crossings_are_one_finding():
    """A line that winds a hundred times through a zone has one fault with it."""
    points = [f"[{300 + k} mm, {60 * (-1) ** k} mm, 110 mm]" for k in range(0, 200)]
    route = f"{{lines: {{feed: {{bend-radius: 1 mm, route: [{', '.join(points)}]}}}}, "
    zone = "zones: {rod: {kind: moving, body: {run: {diameter: 6 mm, points: "
    fragment = route + zone + "[[250 mm, 0 mm, 110 mm], [600 mm, 0 mm, 110 mm]]}}}}}"
    about = [
        x for x in said("line-near-moving-part", fragment) if "rod" in x.parts and x.part == "feed"
    ]
    assert len(about) == 1


@pytest.mark.parametrize("shielded", ["yes", "no"])
def test_own_end_at_the_engine_is_no_fault(shielded):
    """The line that ends at the engine reaches its case; the feed led along the case does not."""
    case = """
    zones:
      engine case:
        shielded: {shielded}
        body: {{cylinder: {{at: [{x} mm, 0 mm, {z} mm], length: 180 mm, diameter: 110 mm}}}}
    """
    x = 1e3 * overlaid("single-main", "{}").engines["engine"].at[0]
    found = said("line-near-hot-part", case.format(shielded=shielded, x=x + 40, z=0))
    assert "valve to engine" not in {one.part for one in found}
    found = said("line-near-hot-part", case.format(shielded=shielded, x=400, z=99))
    assert "feed" in {one.part for one in found if one.measured and one.measured.value == 0.0}


@pytest.mark.parametrize(("zone", "apart"), [("battery", 49), ("electronics", 49)])
def test_outlets_count_as_fuel(zone, apart):
    """A battery or a receiver by the opening of a vent is too near."""
    layout = overlaid("single-main", "{}")
    x, y, z = (1e3 * value for value in layout.outlets["vent"].at)
    name = {"battery": "battery-near-fuel", "electronics": "electronics-near-fuel"}[zone]
    for more, count in ((0, 1), (2, 0)):
        away = apart + more + 5
        fragment = f"""
        zones:
          thing:
            kind: {zone}
            body: {{box: {{at: [{x} mm, {y} mm, {z - away} mm], size: [10 mm, 10 mm, 10 mm]}}}}
        """
        found = [one for one in said(name, fragment) if one.part == "vent" and one.field == "at"]
        assert len(found) == count


def test_limit_of_overlaps_is_editable():
    """Two parts 8 mm apart are apart by default, and too near with a limit of 10 mm."""
    fragment = """
    tees:
      spare: {at: [500 mm, 100 mm, 0 mm], bore: 4 mm}
      other: {at: [518 mm, 100 mm, 0 mm], bore: 4 mm}
    """
    assert said("parts-overlap", fragment) == []
    (one,) = [x for x in said("parts-overlap", fragment, 0.010) if "spare" in (x.part, *x.parts)]
    assert one.measured is not None
    assert one.measured.value == pytest.approx(0.008)


def test_a_line_through_its_own_tank_is_found():
    """A line may leave its tank by the port, and not through the tank."""
    route = "[[300 mm, 0 mm, 100 mm], [400 mm, 0 mm, 100 mm], [400 mm, 0 mm, -60 mm]]"
    found = said("parts-overlap", f"{{lines: {{feed: {{route: {route}}}}}}}")
    assert [x.what for x in found if x.part == "feed" and x.parts == ("main",)]


def test_a_body_round_everything_is_one_finding_for_each_thing():
    """A zone round the whole aircraft overlaps each tank once and each line once."""
    fragment = """
    zones: {all: {kind: keep-out, body: {box: {at: [0 m, 0 m, 0 m], size: [5 m, 5 m, 5 m]}}}}
    """
    layout = overlaid("single-main", fragment)
    assert len(said("tank-in-keep-out", fragment)) == len(layout.tanks)
    assert len(said("line-in-keep-out", fragment)) == len(layout.lines)


def test_second_crossing_of_a_former_has_no_passage():
    """A line that names a passage and comes back through the former elsewhere is found."""
    layout = overlaid("single-main", "{}")
    former = layout.formers["F2"]
    x = 1e3 * former.station
    route = ", ".join(
        f"[{a} mm, {b} mm, 110 mm]"
        for a, b in ((300, 0), (x + 20, 0), (x + 20, 30), (x - 20, 30), (x - 20, 50), (520, 50))
    )
    found = said(
        "former-without-passage", f"{{lines: {{feed: {{bend-radius: 1 mm, route: [{route}]}}}}}}"
    )
    (one,) = [x for x in found if x.part == "feed"]
    assert "y = 30 mm, z = 110 mm and 1 more times" in one.what


@pytest.mark.parametrize(("shielded", "count"), [("yes", 0), ("no", 1)])
def test_a_shield_spares_the_distance(shielded, count):
    """A receiver 5 mm ahead of the main needs 10 mm, or a shield."""
    beside = RECEIVER.replace("300 mm, 0 mm, 25 mm", "153.5 mm, 0 mm, 25 mm")
    fragment = beside.replace("kind:", f"shielded: {shielded}\n    kind:")
    assert len([x for x in said("electronics-near-fuel", fragment) if x.part == "main"]) == count


@pytest.mark.parametrize(
    ("tube", "celsius", "gap", "near"),
    [
        ("polyurethane 6x4", 200, 49, 1),
        ("polyurethane 6x4", 200, 51, 0),
        ("PTFE 6x4", 200, 26, 0),
        ("PTFE 6x4", 200, 24, 1),
        ("PTFE 6x4", 400, 49, 1),
    ],
)
def test_a_tube_that_stands_the_heat_needs_half_the_distance(tube, celsius, gap, near):
    """50 mm from a hot part, 25 mm where the tube stands its temperature."""
    fragment = f"""
    lines: {{feed: {{tube: {tube}}}}}
    zones:
      pipe:
        kind: hot
        temperature: {celsius} degC
        body: {{box: {{at: [400 mm, 0 mm, {110 + 3 + gap + 10} mm], size: [20 mm, 20 mm, 20 mm]}}}}
    """
    found = [x for x in said("line-near-hot-part", fragment) if "pipe" in x.parts]
    assert len([x for x in found if x.part == "feed"]) == near


@pytest.mark.parametrize(("beside", "count"), [(4, 1), (5, 0)])
def test_a_line_along_a_former_is_not_in_it(beside, count):
    """A tube of 6 mm along a former of 3 mm needs 4.5 mm between their middles."""
    x = 460 - beside
    corners = ((200, 30), (x, 30), (x, 60), (200, 60))
    route = ", ".join(f"[{a} mm, {b} mm, 110 mm]" for a, b in corners)
    fragment = f"{{lines: {{vent: {{bend-radius: 3 mm, route: [{route}]}}}}}}"
    formers = overlaid("single-main", "{}").formers
    assert formers["F2"].station == pytest.approx(0.460)
    found = [x for x in said("parts-overlap", fragment) if x.parts == ("F2",)]
    assert len(found) == count


SWING = """
zones:
  leg:
    kind: moving
    body: {{box: {{at: [{x} mm, 0 mm, -200 mm], size: [10 mm, 10 mm, 160 mm]}}}}
    swings: {{about: [{x} mm, 0 mm, -120 mm], axis: y, by: {by} deg}}
"""


@pytest.mark.outside("hand: the end of a leg of 160 mm on its way", quantity="swept room")
@pytest.mark.parametrize(
    ("x", "by", "hits"),
    [
        (300, 0.001, False),  # it hangs 110 mm under the main, from -280 to -120 mm
        (300, 170, True),  # up to the tank's floor at -10 mm and past it
        (300, 60, False),  # 160 mm from the pivot at -120 mm, 30 deg below level
        (120, -180, True),  # only on its way: at the end it stands up 53 mm ahead of the tank
    ],
)
def test_what_moves_is_held_to_all_its_way(x, by, hits):
    """A leg that swings through the place of a tank is found, wherever it starts and ends."""
    fragment = SWING.format(x=x, by=by)
    found = [one for one in said("tank-near-moving-part", fragment) if one.part == "main"]
    assert bool(found) == hits


@pytest.mark.parametrize(("slide", "count"), [(100, 0), (190, 1)])
def test_what_slides_is_held_to_all_its_way(slide, count):
    """A tray 200 mm under the main that slides up is clear of it up to 10 mm."""
    fragment = f"""
    zones:
      tray:
        kind: moving
        body: {{box: {{at: [300 mm, 0 mm, -215 mm], size: [40 mm, 40 mm, 10 mm]}}}}
        slides: [0 mm, 0 mm, {slide} mm]
    """
    found = [one for one in said("tank-near-moving-part", fragment) if one.part == "main"]
    assert len(found) == count


@pytest.mark.parametrize("part", ["pump", "fine filter"])
def test_a_part_in_a_former_is_found(part):
    """A part whose middle is in a former cannot be fitted, unless it stands in a passage."""
    layout = overlaid("single-main", "{}")
    x, y, z = (1e3 * value for value in layout.part(part).at)
    former = f"""
    formers:
      web:
        station: {x} mm
        thickness: 3 mm
        material: plywood
        outline: [[-90 mm, -90 mm], [90 mm, -90 mm], [90 mm, 90 mm], [-90 mm, 90 mm]]
        passages: {{hole: {{at: [{y} mm, HEIGHT mm], diameter: 20 mm}}}}
    """
    for place, count in ((z + 60, 1), (z, 0)):
        found = [
            one
            for one in said("parts-overlap", former.replace("HEIGHT", str(place)))
            if one.part == part
        ]
        assert len([one for one in found if one.parts == ("web",)]) == count


def test_nothing_enters_what_is_solid_and_touching_is_allowed():
    """A wing tube may lie against a tank; in it neither tank, part nor line may be."""
    for x, count in ((0, 0), (1, 1)):
        fragment = f"""
        zones:
          wing tube:
            kind: structure
            body: {{box: {{at: [{431.5 - x} mm, 0 mm, 25 mm], size: [20 mm, 40 mm, 20 mm]}}}}
        """
        found = said("parts-overlap", fragment)
        assert len([one for one in found if "wing tube" in (one.part, *one.parts)]) == count


HULL = """
aircraft:
  airframe: {{box: {{at: [600 mm, 0 mm, 0 mm], size: [1300 mm, {wide} mm, 400 mm]}}}}
"""


@pytest.mark.outside("hand: a tank 90 mm wide with walls of 1.5 mm", quantity="room in an airframe")
@pytest.mark.parametrize(("wide", "count"), [(93.01, 0), (92, 1)])
def test_a_tank_has_room_in_the_airframe_or_not(wide, count):
    """The main, 93 mm wide with its walls, fits a hull of 93 mm and not one of 92 mm."""
    found = [one for one in said("outside-airframe", HULL.format(wide=wide)) if one.part == "main"]
    assert len(found) == count
    if count:
        assert "crosses the skin of the airframe" in found[0].what
        assert "no move of up to 60 mm along one axis clears it" in found[0].what


@pytest.mark.parametrize(("limit", "count"), [(3.4e-3, 0), (3.6e-3, 1)])
def test_distance_to_the_skin_is_editable(limit, count):
    """In a hull of 100 mm the tank of 93 mm stands 3.5 mm from the skin."""
    found = said("outside-airframe", HULL.format(wide=100), limit)
    assert len([one for one in found if one.part == "main"]) == count


def test_lines_may_leave_the_airframe_where_they_open():
    """In a hull of 110 mm the vent outlet is outside and its line is no fault; a detour is."""
    hull = HULL.format(wide=110)
    assert not [one for one in said("outside-airframe", hull) if one.part in ("vent", "feed")]
    x = 1e3 * overlaid("single-main", "{}").formers["F2"].station
    route = f"[[300 mm, 0 mm, 110 mm], [{x} mm, 80 mm, 110 mm], [520 mm, 0 mm, 110 mm]]"
    found = said(
        "outside-airframe", f"{hull}\nlines: {{feed: {{bend-radius: 1 mm, route: {route}}}}}"
    )
    (one,) = [one for one in found if one.part == "feed"]
    assert re.search(r"moved (\d+) mm to port it is clear", one.what)[1] == "28"  # 80 + 3 - 55


def test_what_lies_wholly_outside_is_found():
    """A tank beside the airframe does not meet its skin, and is outside."""
    hull = HULL.format(wide=110).replace("0 mm, 0 mm]", "0 mm, 600 mm]")
    found = [one for one in said("outside-airframe", hull) if one.part == "main"]
    assert ["lies outside the airframe" in one.what for one in found] == [True]


@pytest.mark.parametrize(("through", "count"), [("[F2.feed]", 0), ("[]", 1)])
def test_a_former_without_outline_leaves_it_open(through, count):
    """Whether a line without a passage meets a former that is not drawn cannot be said."""
    fragment = f"{{formers: {{F2: {{outline: null}}}}, lines: {{feed: {{through: {through}}}}}}}"
    layout = overlaid("single-main", fragment)
    (check,) = (check for check in SPACE if check.name == "former-without-passage")
    found = [one for one in asked(check, Case(layout), 0.0) if isinstance(one, Lacking)]
    about = [one for one in found if one.part == "feed"]
    assert [one.missing for one in about] == ["formers.F2.outline"] * count


@pytest.mark.outside("hand: from a disc at x to the rear of a tank", quantity="way out of a plane")
def test_the_way_out_of_a_disc_plane_is_said():
    """A wheel 8.5 mm behind the main's wall wants 30 mm: the main goes 22 mm forward."""
    fragment = """
    zones: {wheel: {kind: disc, body: {disc: {at: [430 mm, 900 mm, 0 mm], radius: 30 mm}}}}
    """
    layout = overlaid("single-main", fragment)
    (check,) = (one for one in checks() if one.name == "tank-in-disc-plane")
    found = [one for one in asked(check, Case(layout), 0.030) if one.parts == ("wheel",)]
    (one,) = [one for one in found if one.part == "main"]
    assert "8.5 mm, not 30 mm, from the plane of wheel at [425.8 mm" in one.what
    assert "tank main moved 22 mm forward is clear" in one.what


@pytest.mark.outside(
    "hand: a loop that comes back to where it was", quantity="a line through itself"
)
@pytest.mark.parametrize(("up", "count"), [(0, 1), (5, 1), (7, 0)])
def test_a_line_may_not_go_through_itself(up, count):
    """A tube of 6 mm that crosses over itself needs 6 mm between its middles."""
    corners = (
        (300, 0, 0),
        (400, 0, 0),
        (400, 60, 0),
        (350, 60, up),
        (350, -40, up),
        (520, -40, up),
    )
    route = ", ".join(f"[{x} mm, {y} mm, {110 + z} mm]" for x, y, z in corners)
    fragment = f"{{lines: {{feed: {{bend-radius: 8 mm, route: [{route}]}}}}}}"
    found = [
        one for one in said("parts-overlap", fragment) if one.what.startswith("Line feed goes")
    ]
    assert ["[350 mm, 0 mm, 11" in one.what for one in found] == [True] * count


def test_a_hairpin_is_not_a_line_through_itself():
    """Two legs of a tube side by side, 16 mm apart, turn with a radius of 8 mm."""
    route = "[[300 mm, 0 mm, 110 mm], [420 mm, 0 mm, 110 mm], [420 mm, 16 mm, 110 mm], "
    route += "[330 mm, 16 mm, 110 mm], [330 mm, 60 mm, 110 mm], [520 mm, 60 mm, 110 mm]]"
    fragment = f"{{lines: {{feed: {{bend-radius: 8 mm, route: {route}}}}}}}"
    assert not [one for one in said("parts-overlap", fragment) if "itself" in one.what]
