"""The exported JSON Schema accepts what the reader accepts and refuses what it can see."""

import json

import jsonschema
import pytest
from layout_samples import SMALL, changed
from schema_samples import DAMAGED, SCHEMA, TEXTS, plain

from plumbing.layout import schema

VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


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


@pytest.mark.parametrize(("old", "new"), DAMAGED)
def test_damaged_layouts_are_not(old, new):
    """What the reader refuses and a schema can see, the schema refuses."""
    assert VALIDATOR.is_valid(plain(SMALL))
    assert not VALIDATOR.is_valid(plain(changed((old, new))))
