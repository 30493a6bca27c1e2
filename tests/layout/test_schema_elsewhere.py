"""Other programs than ours read the exported JSON Schema: a second validator, and its patterns."""

import re

import jsonschema_rs
import pytest
from layout_samples import SMALL, changed
from schema_samples import DAMAGED, SCHEMA, TEXTS, patterns, plain

VALIDATOR = jsonschema_rs.Draft202012Validator(SCHEMA)
CLASS = re.compile(r"\[(?:[^\]\\]|\\.)*\]", re.DOTALL)
SYNTAX_CHARACTERS = set("^$\\.*+?()[]{}|")  # ECMA-262, SyntaxCharacter
CLASS_ESCAPES = set("bBdDsSwWfnrtv")


@pytest.mark.outside("JSON Schema 2020-12 by a second validator", quantity="schema valid, 0 or 1")
def test_the_second_validator_knows_it_as_a_schema():
    """The meta-schema of 2020-12 holds, and every pattern compiles as ECMA-262."""
    assert jsonschema_rs.meta.is_valid(SCHEMA)


@pytest.mark.parametrize("name", TEXTS)
def test_the_second_validator_agrees_on_right_layouts(name):
    """Every demo and every starter is valid."""
    assert [error.message for error in VALIDATOR.iter_errors(plain(TEXTS[name]))] == []


@pytest.mark.parametrize(("old", "new"), DAMAGED)
def test_the_second_validator_agrees_on_damaged_layouts(old, new):
    """What the reader refuses and a schema can see, it refuses."""
    assert VALIDATOR.is_valid(plain(SMALL))
    assert not VALIDATOR.is_valid(plain(changed((old, new))))


@pytest.mark.outside(
    "ECMA-262, section 22.2.1: IdentityEscape and ClassEscape with the flag u, ClassSetCharacter "
    "with the flag v; from memory",
    quantity="escapes an editor refuses, count",
)
@pytest.mark.parametrize("pattern", patterns(SCHEMA))
def test_patterns_are_of_the_dialect(pattern):
    """Escapes are those that ECMA-262 has with its flag u; no group, flag or anchor of Python's."""
    bare = CLASS.sub("x", pattern)
    for text, more in ((bare, set()), ("".join(CLASS.findall(pattern)), {"-"})):
        escaped = set(re.findall(r"\\(.)", text, re.DOTALL))
        assert escaped <= SYNTAX_CHARACTERS | CLASS_ESCAPES | {"/"} | more
    assert "(?" not in bare
    assert not re.search(r"[*+?}]\+", bare)
    for inside in CLASS.findall(pattern):
        unescaped = re.sub(r"\\.", "", inside[1:-1].removeprefix("^"))
        spans = re.sub(r"\w-\w", "", unescaped)
        assert not set(spans) & set("()[]{}/-|"), "must be escaped with the flag v"
        assert not re.search(r"([&!#$%*+,.:;<=>?@^`~])\1", spans), "doubled signs mean more with v"
