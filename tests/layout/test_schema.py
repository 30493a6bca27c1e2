"""The exported JSON Schema accepts what the reader accepts and refuses what it can see."""

import json

import jsonschema
import pytest
from layout_samples import DEMOS, SMALL, changed
from ruamel.yaml import YAML

from plumbing.layout import STARTERS, schema, starter

VALIDATOR = jsonschema.Draft202012Validator(schema())
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in DEMOS}
TEXTS |= {f"starter {name}": starter(name) for name in STARTERS}


def plain(text):
    """A layout as an editor sees it: YAML 1.2 as plain data."""
    return YAML(typ="safe", pure=True).load(text)


def test_it_is_a_schema():
    """The schema is itself valid, and is JSON."""
    jsonschema.Draft202012Validator.check_schema(schema())
    assert json.loads(json.dumps(schema())) == schema()
    assert schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("name", TEXTS)
def test_right_layouts_are_valid(name):
    """Every demo and every starter is valid."""
    errors = [error.message for error in VALIDATOR.iter_errors(plain(TEXTS[name]))]
    assert not errors


DAMAGED = [
    ("title: Small\n", ""),
    ("title: Small", "titel: Small"),
    ("thrust: 60 N", "thrust: 60"),
    ("thrust: 60 N", "thrust: 60 %"),
    ("kind: clunk", "kind: clonk"),
    ("[0 mm, 20 mm]", "[0 mm]"),
    ("[0 mm, 20 mm]", "[0, 20]"),
    ("shape: {box: {", "shape: {bocks: {"),
    (", bore: 3 mm}", "}"),
    ("throttle: 50 %}", "throttle: 0.5}"),
    ("format: 1", "format: 2"),
    ("feed-order: [main]", "feed-order: main"),
    ("pump: {at", "pu.mp: {at"),
    ("pump: {at", "x" * 41 + ": {at"),
    ("diameter: 9 mm", "diameter: 9 mm, sealed: perhaps"),
    ("duration: 60 s", "duration: 60 s, repeat: 0"),
]


@pytest.mark.parametrize(("old", "new"), DAMAGED)
def test_damaged_layouts_are_not(old, new):
    """What the reader refuses and a schema can see, the schema refuses."""
    assert VALIDATOR.is_valid(plain(SMALL))
    assert not VALIDATOR.is_valid(plain(changed((old, new))))
