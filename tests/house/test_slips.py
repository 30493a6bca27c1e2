"""Forty slips that builders make, each named at its place with the mend.

The slips are common practice: what is seen on drawings, in shop drawings' units and in first files.
"""

import re

import pytest

SOUND = "layouts/single-main.yaml"

# Slip: what stood there, what is written, what is said, what is asked for.
REFUSED = {
    "decimal comma": ("dry-mass: 9.2 kg", "dry-mass: 9,2 kg", "decimal comma", "`9.2 kg`"),
    "comma in a list": ("[300 mm, 0 mm, 25", "[300,5 mm, 0 mm, 25", "decimal comma", "`300.5 mm`"),
    "metres for millimetres": ("half-span: 1.2 m", "half-span: 1200 m", "`1200 m`", "`420 mm`"),
    "bore in metres": (
        "bore: 2.5 mm\n    exh",
        "bore: 2.5 m\n    exh",
        "`2.5 m`",
        "0.1 mm to 100 mm",
    ),
    "wall in metres": ("thickness: 1.5 mm", "thickness: 1.5 m", "`1.5 m`", "0.1 mm to 100 mm"),
    "outside diameter of a barb as its bore": (
        "barb-4: {kind: barb, bore: 3.6 mm",
        "barb-4: {kind: barb, bore: 4.6 mm",
        "an inner diameter of joint `barb-4` that is not below",
        "the smaller diameter inside",
    ),
    "outside diameter of a hose as its bore": (
        "125 mm, bore: 4 mm",
        "125 mm, bore: 6.4 mm",
        "an inner diameter of the hose at `main.feed`",
        "the smaller diameter inside",
    ),
    "bore before outside diameter": (
        "polyurethane 6x4, cut-length: 375",
        "polyurethane 4x6, cut-length: 375",
        "no tube `polyurethane 4x6`",
        "`polyurethane 6x4`: the outer diameter first",
    ),
    "tube misspelt": (
        "polyurethane 6x4, cut-length: 375",
        "poliurethane 6x4, cut-length: 375",
        "no tube `poliurethane 6x4`",
        "`polyurethane 6x4`",
    ),
    "tube nobody makes": (
        "polyurethane 6x4, cut-length: 375",
        "polyurethane 7x4, cut-length: 375",
        "no tube `polyurethane 7x4`",
        "`polyurethane 6x4`",
    ),
    "outlet missing": (
        "outlets:\n  vent: {",
        "connectors:\n  wing root: {",
        "no part `vent`",
        "or a part of that name",
    ),
    "line drawn twice": (
        "  fill: {from: fill.tube",
        "  feed 2: {from: main.feed, to: header.fill, tube: nylon 6x4}\n  fill: {from: fill.tube",
        "port `main.feed` on line `feed 2` and on `feed`",
        "one line at a port; join lines by a tee",
    ),
    "capacity without unit": ("fill: 97 %", "capacity: 1.5", "`1.5` without a unit", "`1.5 L`"),
    "litres for millilitres": ("fill: 97 %", "capacity: 1500 L", "`1500 L`, out of", "`1.5 L`"),
    "inches as a fraction": ("bore: 4 mm, out", "bore: 5/32 in, out", "fraction", "`0.15625 in`"),
    "inches by a sign": ("bore: 4 mm, out", 'bore: 0.16", out', "a sign for inches", "`0.16 in`"),
    "diameter by a sign": ("bore: 4 mm, out", "bore: ø4 mm, out", "a sign before", "only `4 mm`"),
    "key misspelt": ("thrust: 60", "trust: 60", "unknown key `trust`", "`thrust`"),
    "key with underscore": ("full-flow: 2", "full_flow: 2", "key `full_flow`", "`full-flow`"),
    "section in the singular": ("\nvalves:", "\nvalve:", "unknown key `valve`", "`valves`"),
    "part misspelt": ("from: main.feed", "from: mian.feed", "no part `mian`", "`main`"),
    "part with a capital": ("from: main.feed", "from: Main.feed", "no part `Main`", "`main`"),
    "port that does not exist": (
        "to: header.in,",
        "to: header.inlet,",
        "`header` has no port `inlet`",
        "one of `fill`, `in`, `out`",
    ),
    "port left out": (
        "to: header.in,",
        "to: header,",
        "`header` without its port",
        "`header.in`",
    ),
    "passage misspelt": ("through: [F2.f", "through: [F2.g", "no passage `F2.geed`", "`F2.feed`"),
    "negative length": ("length: 375 mm", "length: -375 mm", "`-375 mm`, out of", "`420 mm`"),
    "share without percent": ("fill: 97 %", "fill: 0.97", "`0.97` without a unit", "`55 %`"),
    "degrees missing": ("pitch: 20 deg", "pitch: 20", "`20` without a unit", "`12 deg`"),
    "kilograms of thrust": ("thrust: 60 N", "thrust: 6 kg", "`6 kg`, which is a mass", "`160 N`"),
    "two engines of one name": (
        "\ntanks:\n",
        "\n  engine: {at: [1060 mm, 90 mm, 10 mm], thrust: 60 N}\n\ntanks:\n",
        "`engine` a second time; it stands in line 27 already",
        "a key once only",
    ),
    "key twice": (
        "    thrust: 60 N\n",
        "    thrust: 60 N\n    thrust: 65 N\n",
        "`thrust` a second time; it stands in line 29",
        "a key once only",
    ),
    "tab": ("    thrust: 60", "\tthrust: 60", "a tab", "spaces for indentation"),
    "colon in a text": ("notes: The", "notes: note: the", "a second `:`", "quote a text"),
    "no space behind the colon": (
        "thrust: 60 N",
        "thrust:60 N",
        "a `:` without a space behind it",
        "`key: value`",
    ),
    "typographic minus": ("-12 mm], bore: 4", "−12 mm], bore: 4", "no minus sign", "`-12 mm`"),
    "port outside its tank": (
        "in: {at: [520 mm, 0 mm, 40 mm]",
        "in: {at: [520 mm, 0 mm, 400 mm]",
        "port `in` 360 mm outside tank `header`",
        "z from -20 mm to 40 mm",
    ),
    "density in other units": ("802 kg/m3", "0.802 kg/m3", "`0.802 kg/m3`", "100 kg/m3 to 3000"),
    "cut length said twice": (
        "cut-length: 375 mm",
        "cut-length: 375 mm, length: 375 mm",
        "`length` beside `cut-length`",
        "only `cut-length`",
    ),
    "a date for an age": (
        "body: brass, age: 5 months, square-cut: done 2026-03-14 by builder,\n"
        "    deburred: done 2026-03-14 by builder, straight: 15 mm, mass: 2 g",
        "body: brass, age: 2026-03-01",
        "a date",
        "`8 months`",
    ),
    "fraction with a hyphen": (
        "half-span: 1.2 m",
        "half-span: 47-1/4 in",
        "a fraction",
        "`47.25 in`",
    ),
    "fraction as one sign": ("bore: 2.5 mm\n", "bore: ⅛ in\n", "a fraction", "`0.125 in`"),
    "fraction without a unit": ("bore: 2.5 mm\n", "bore: 3/32\n", "a fraction", "`0.09375 in`"),
    "a range": ("half-span: 1.2 m", "half-span: 1.1-1.3 m", "a range", "`1.2 m`"),
    "a tolerance": ("half-span: 1.2 m", "half-span: 1.2 m ± 5 mm", "a tolerance", "only `1.2 m`"),
    "words behind the unit": (
        "bore: 2.5 mm\n",
        "bore: 2.5 mm ID\n",
        "words behind",
        "only `2.5 mm`",
    ),
    "about so much": ("half-span: 1.2 m", "half-span: ca. 1.2 m", "a sign before", "only `1.2 m`"),
    "a colon in a time": ("duration: 80 s", "duration: 1:20", "a colon", "`1 min 20 s`"),
    "other capitals": ("dry-mass: 9.2 kg", "dry-mass: 9.2 Kg", "other capitals", "`9.2 kg`"),
    "grams that are grains": ("dry-mass: 9.2 kg", "dry-mass: 9200 gr", "another word", "`9200 g`"),
    "gallons of two sizes": (
        "fill-flow: 1 L/min",
        "fill-flow: 0.25 gal/min",
        "larger in one country",
        "litres",
    ),
    "size before material": (
        "polyurethane 6x4, cut-length: 375",
        "6x4 polyurethane, cut-length: 375",
        "no tube",
        "`polyurethane 6x4`",
    ),
    "size with a stroke": (
        "polyurethane 6x4, cut-length: 375",
        "PU 6/4 mm, cut-length: 375",
        "no tube",
        "`polyurethane 6x4`",
    ),
    "inner first, no material": (
        "polyurethane 6x4, cut-length: 375",
        "4x6 mm, cut-length: 375",
        "no tube",
        "`nylon 6x4`, `polyurethane 6x4`, `stainless 6x4`: the outer diameter first",
    ),
    "size by labels": (
        "polyurethane 6x4, cut-length: 375",
        "polyurethane OD 6 ID 4, cut-length: 375",
        "no tube",
        "`polyurethane 6x4`",
    ),
    "a tube without its size": (
        "polyurethane 6x4, cut-length: 375",
        "nylon, cut-length: 375",
        "no tube `nylon`",
        "`nylon 10x7.2`",
    ),
    "a material of no tube": (
        "polyurethane 6x4, cut-length: 375",
        "cardboard 8x5, cut-length: 375",
        "no tube",
        "`fluoroelastomer 8x5`, `polyurethane 8x5`",
    ),
    "limits the wrong way round": (
        "[350 mm, 392 mm]",
        "[392 mm, 350 mm]",
        "a forward limit that is not ahead",
        "the smaller x first",
    ),
}

# Slip: changes, the finding's check, what it says, the mend.
FOUND = {
    "pump the wrong way round": (
        [("to: pump.in", "to: pump.out"), ("from: pump.out", "from: pump.in")],
        "engine-without-fuel-path",
        "pump bars the way",
        "a line on the wrong port",
    ),
    "filter the wrong way round": (
        [("to: screen.in", "to: screen.out"), ("from: screen.out", "from: screen.in")],
        "filter-flushed-backwards",
        "Filter screen stands against the flow",
        "turn it round",
    ),
    "header and main exchanged": (
        [("    role: header\n", ""), ("  main:\n", "  main:\n    role: header\n")],
        "air-trap-after-header",
        "Tank header stands between header main and the pump",
        "`role: header`",
    ),
    "plug left in": (
        [("opens-at: [196 mm, 30 mm, 59 mm]", "capped: yes")],
        "tank-without-air-path",
        "main.vent closes the way",
        "one open vent",
    ),
    "vent and fill exchanged": (
        [
            ("  vent: {from: main.vent", "  spare: {from: header.fill"),
            ("to: header.fill", "to: main.vent"),
        ],
        "header-vented",
        "open to the outside",
        "Cap it in flight",
    ),
    "fill line missing": (
        [(r"  fill: \{from: fill[^}]*\}\n", "")],
        "unconnected-tank-port",
        "header.fill is open and no line joins it",
        "draw the line that joins it",
    ),
    "cut a tenth as long": (
        [("cut-length: 375 mm", "cut-length: 37.5 mm")],
        "cut-length-too-short",
        "feed is cut to 37.5 mm",
        "Cut to the routed length",
    ),
}


def test_enough_slips():
    """Forty slips and more."""
    assert len(REFUSED) + len(FOUND) >= 40


@pytest.mark.parametrize("slip", REFUSED)
def test_slip_is_refused_with_its_mend(call, root, tmp_path, slip):
    """The message has the line, what stands there, and what to write instead."""
    was, written, found, mend = REFUSED[slip]
    sound = (root / SOUND).read_text(encoding="utf-8")
    assert was in sound
    done = call("check", _file(tmp_path, sound.replace(was, written, 1)))
    assert done.exit_code == 2
    faults = re.findall(r":(\d+):\d+\n +found +(.*)\n +expected +(.*)\n", done.output)
    named = [fault for fault in faults if found in fault[1] and mend in fault[2]]
    assert named, done.output
    if slip != "outlet missing":  # named where it is missed
        first = sound[: sound.index(was)].count("\n") + 1
        assert first <= int(named[0][0]) <= first + written.count("\n")


SECTIONS = ["engines", "tanks", "valves", "filters", "pumps", "outlets", "fill-ports", "joints",
            "lines", "formers", "zones", "parking", "flights"]  # fmt: skip


@pytest.mark.parametrize("section", SECTIONS)
def test_a_misspelt_section_is_one_fault(call, root, tmp_path, section):
    """It is said once; lines that name what is in it have no faults of their own."""
    sound = (root / SOUND).read_text(encoding="utf-8")
    written = sound.replace(f"\n{section}:", f"\n{section[:-2]}{section[-1]}{section[-2]}:", 1)
    assert written != sound
    done = call("check", _file(tmp_path, written))
    assert done.exit_code == 2
    assert "1 fault in the file" in done.output
    assert f"expected  `{section}`" in done.output


@pytest.mark.quick("filter", "plug", "cut")
@pytest.mark.parametrize("slip", FOUND)
def test_slip_is_found_with_its_mend(call, root, tmp_path, slip):
    """What can be drawn but not flown is a finding that names the part and the cure."""
    changes, check, what, mend = FOUND[slip]
    text = (root / SOUND).read_text(encoding="utf-8")
    for was, written in changes:
        changed = re.sub(was if "\\" in was else re.escape(was), written, text, count=1)
        assert changed != text
        text = changed
    done = call("check", _file(tmp_path, text), "--full")
    assert done.exit_code == 1
    said = " ".join(done.output.split())
    assert check in said
    assert what in said
    assert mend in said
    assert re.search(r"line \d+", said)


def _file(folder, text):
    path = folder / "mine.yaml"
    path.write_text(text, encoding="utf-8")
    return path
