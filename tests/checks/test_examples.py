"""The examples in the checks' documentation are executed, and its form is held."""

import dataclasses
import math
import re

import pytest
from overlay import merged, overlaid, said

from plumbing.checks.kit import Check, Found
from plumbing.checks.registry import checks
from plumbing.checks.run import place_of
from plumbing.model.layout import Layout
from plumbing.place import NOWHERE
from plumbing.units import KINDS

every_check = pytest.mark.parametrize("check", checks(), ids=lambda check: check.name)


@every_check
def test_bad_example_is_found(check: Check):
    """The Bad fragment loads without faults and is found by its own check."""
    layout = overlaid(check.starter, check.bad)
    found = [one for one in said(check, layout) if isinstance(one, Found)]
    assert found
    for one in found:
        _is_well_formed(one, layout)


@every_check
def test_good_example_is_silent(check: Check):
    """The Good fragment loads without faults, lacks nothing and is not found."""
    layout = overlaid(check.starter, check.good)
    assert said(check, layout) == ()


@every_check
def test_name_and_texts_read_well(check: Check):
    """A check has a name in words, a sentence for title, a source, a reason and a cure."""
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", check.name)
    assert re.fullmatch(r"[A-Z].+\.", check.title)
    assert "\n" not in check.title
    assert check.source.strip()
    for text in (check.why, check.cure):
        assert re.fullmatch(r"[A-Z].+[.]", text)


@every_check
def test_limit_is_a_quantity(check: Check):
    """A limit is written as a user would write it, and is a finite number of its kind."""
    if check.limit is not None:
        assert check.limit.kind in KINDS
        assert math.isfinite(check.limit.value)


def test_names_are_unique():
    """No two checks have one name."""
    names = [check.name for check in checks()]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("base", "fragment", "result"),
    [
        ({"a": {"b": 1, "c": 2}}, {"a": {"b": 3}}, {"a": {"b": 3, "c": 2}}),
        ({"a": {"b": 1}}, {"a": None}, {}),
        ({"shape": {"box": 1}}, {"shape": {"cylinder": 2}}, {"shape": {"cylinder": 2}}),
        (
            {"shape": {"box": {"x": 1}}},
            {"shape": {"box": {"y": 2}}},
            {"shape": {"box": {"x": 1, "y": 2}}},
        ),
        ({"a": [1, 2]}, {"a": [3]}, {"a": [3]}),
        ({}, {"a": {"b": 1}}, {"a": {"b": 1}}),
    ],
)
def test_overlay(base, fragment, result):
    """Mappings merge key by key, null deletes, lists and other kinds of solid replace."""
    assert merged(base, fragment) == result


def _is_well_formed(found: Found, layout: Layout) -> None:
    """A finding is one sentence about a part of the file, with finite figures."""
    assert re.fullmatch(r".+[.]", found.what)
    assert "None" not in found.what
    assert " nan" not in found.what
    assert place_of(layout, found.part, "") != NOWHERE
    owners = _owners(layout, found.part)
    assert not found.field or any(hasattr(owner, found.field) for owner in owners)
    for figure in (found.measured, found.allowed):
        if figure is not None:
            assert figure.kind in KINDS
            assert math.isfinite(figure.value)


def _owners(layout: Layout, part: str) -> list[object]:
    """What a finding's part may name: a part and a line of one name, or a section of the file."""
    fields = (one.name for one in dataclasses.fields(layout) if one.name != "places")
    sections = [getattr(layout, name) for name in fields]
    owners = [
        named[part]
        for named in sections
        if isinstance(named, dict) and dataclasses.is_dataclass(named.get(part))
    ]
    return owners or [getattr(layout, part.replace("-", "_"))]
