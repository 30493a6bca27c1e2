"""The tables of this floor: sources, sense, and the tubes and materials made of them."""

from importlib.resources import files

import pytest

from plumbing.physics.materials import material, materials
from plumbing.physics.tables import number, rows
from plumbing.physics.tubes import catalogue

NAMES = sorted(
    entry.name.removesuffix(".csv")
    for entry in (files("plumbing.physics") / "tables").iterdir()
    if entry.name.endswith(".csv")
)


@pytest.mark.parametrize("name", NAMES)
def test_every_row_has_a_source(name):
    """Every row of every table says where it is from, and has a cell for every column."""
    table = rows(name)
    assert table
    for row in table:
        assert row["source"].strip()
        assert None not in row
        assert None not in row.values()


@pytest.mark.parametrize("name", ["tubes", "materials", "fittings", "fuels", "outlets"])
def test_names_are_unique(name):
    """No name stands twice in a table."""
    key = "facing" if name == "outlets" else "name"
    names = [row[key] for row in rows(name)]
    assert len(names) == len(set(names))


def test_numbers():
    """An empty cell is no number, and others are scaled."""
    assert number("  ") is None
    assert number("2.5", 1e-3) == pytest.approx(2.5e-3)


@pytest.mark.outside(
    "a pneumatic valve maker's manual: 4x2.5, 6x4, 8x5.7, 10x7.2 nylon; 4x2, 6x4, 8x5, 10x6.5 "
    "polyurethane; bend radius 10, 20, 30, 40 mm",
    quantity="tube sizes and bend radii",
)
@pytest.mark.parametrize(
    ("name", "bore", "bend"),
    [
        ("nylon 4x2.5", 2.5, 10),
        ("nylon 6x4", 4.0, 20),
        ("nylon 8x5.7", 5.7, 30),
        ("nylon 10x7.2", 7.2, 40),
        ("polyurethane 4x2", 2.0, 10),
        ("polyurethane 6x4", 4.0, 20),
        ("polyurethane 8x5", 5.0, 30),
        ("polyurethane 10x6.5", 6.5, 40),
    ],
)
def test_published_tubes(name, bore, bend):
    """The published sizes and bend radii are in the catalogue."""
    tube = catalogue()[name]
    assert tube.inside_diameter == pytest.approx(bore * 1e-3)
    assert tube.bend_radius == pytest.approx(bend * 1e-3)


@pytest.mark.outside(
    "49 CFR 571.106 table, bores 2.01, 2.34, 2.98, 4.32, 5.90 mm, from memory",
    quantity="inch tubes",
)
@pytest.mark.parametrize(
    ("size", "bore"), [("1/8", 2.01), ("5/32", 2.34), ("3/16", 2.98), ("1/4", 4.32), ("5/16", 5.90)]
)
def test_inch_tubes(size, bore):
    """Inch sizes have the bores their walls leave."""
    assert catalogue()[f"nylon {size} in"].inside_diameter == pytest.approx(bore * 1e-3, abs=1.1e-5)


@pytest.mark.outside("mass of a ring of 6x4 mm of 1200 kg/m3, by hand", quantity="tube mass")
def test_tube_mass():
    """A metre of 6x4 polyurethane weighs about 19 g."""
    assert catalogue()["polyurethane 6x4"].linear_mass == pytest.approx(18.85e-3, rel=1e-3)


def test_tubes_make_sense():
    """Every tube has a wall, a known material, a bend wider than itself and no endless rating."""
    for name, tube in catalogue().items():
        assert tube.name == name
        assert tube.wall > 2e-4
        assert tube.material in materials()
        assert "tube" in materials()[tube.material].use
        assert tube.bend_radius >= 2.0 * tube.outside_diameter
        assert 1e5 < tube.rated_pressure <= 2e7
        assert tube.max_temperature <= materials()[tube.material].max_celsius


@pytest.mark.outside(
    "fluoroelastomer good, silicone and EPDM unsuitable, nylon good; common handbook knowledge, "
    "from memory",
    quantity="kerosene compatibility",
)
@pytest.mark.parametrize(
    ("name", "standing"),
    [
        ("fluoroelastomer", "good"),
        ("nylon", "good"),
        ("PTFE", "excellent"),
        ("silicone", "unsuitable"),
        ("EPDM", "unsuitable"),
        ("PVC", "poor"),
    ],
)
def test_compatibility(name, standing):
    """Materials stand kerosene as handbooks say."""
    assert materials()[name].kerosene == standing


def test_materials_by_any_capitals():
    """A material is found whatever its capitals; an unknown one is not."""
    assert material(" ptfe ") is materials()["PTFE"]
    assert material("unobtainium") is None
