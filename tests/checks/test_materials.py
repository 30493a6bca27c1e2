"""The material table: spellings, and what softness follows from."""

import pytest

from plumbing.checks.materials import ages, is_soft, material
from plumbing.layout import read, starter
from plumbing.model.line import Tube


def tube(name: str, hardness: float | None = None) -> Tube:
    """A 6 x 4 tube."""
    return Tube(
        name="t", outside_diameter=6e-3, inside_diameter=4e-3, material=name, hardness=hardness
    )


@pytest.mark.parametrize("name", ["FKM", "fkm", "Fluoroelastomer", " fluoroelastomer "])
def test_spellings_are_one_material(name):
    """Case, spaces and the usual short names make no difference."""
    assert material(name) is material("fluoroelastomer")


@pytest.mark.parametrize("name", [None, "", "unobtainium"])
def test_unknown_material_is_not_guessed(name):
    """What is not in the table is neither good nor bad."""
    assert material(name) is None


@pytest.mark.outside("common practice: no silicone, latex or EPDM with kerosene", "resistance")
@pytest.mark.parametrize(
    ("name", "verdict"),
    [
        ("silicone", "unsuitable"),
        ("latex", "unsuitable"),
        ("EPDM", "unsuitable"),
        ("PTFE", "excellent"),
        ("nylon", "good"),
        ("urethane", "fair"),
    ],
)
def test_kerosene_resistance(name, verdict):
    """Silicone is unsuitable, PTFE stands it, urethane does for some seasons."""
    assert material(name).kerosene == verdict


@pytest.mark.parametrize(
    ("name", "hardness", "soft"),
    [
        ("polyurethane", 95.0, False),
        ("polyurethane", 70.0, True),
        ("fluoroelastomer", None, True),
        ("nylon", None, False),
        ("stainless steel", None, False),
        ("unobtainium", None, None),
    ],
)
def test_softness_is_hardness_else_family(name, hardness, soft):
    """A stated hardness decides, else the usual one of the material."""
    assert is_soft(tube(name, hardness)) is soft


def test_what_ages():
    """Urethane and rubber are renewed, nylon and metal are not."""
    known = ("polyurethane", "nitrile", "nylon", "aluminium")
    assert [ages(name) for name in known] == [True, True, False, False]


def test_every_catalogue_tube_is_of_a_known_material():
    """Every tube of the catalogue is in the material table."""
    catalogue = read(starter("single-main")).catalogue
    assert all(material(one.material) for one in catalogue.values())
