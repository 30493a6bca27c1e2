"""What may not meet: the planted and the clean, and what the findings say."""

from io import StringIO

import numpy as np
import pytest
from aircraft import made, planted
from overlay import overlaid
from ruamel.yaml import YAML

from plumbing import layout as layout_files
from plumbing.checks.kit import Case, Found
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
        "parts-overlap",
        "tank-in-keep-out",
        "tank-near-hot-part",
        "tank-near-moving-part",
        "tanks-too-near",
    )
)
NAMED = {check.name: check for check in SPACE}


def read(values):
    written = StringIO()
    YAML(typ="safe").dump(values, written)
    return layout_files.read(written.getvalue(), "made.yaml")


def findings(layout):
    return judge(Case(layout), SPACE).findings


def said(name, fragment, limit=None):
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
