"""Layouts to hold the exported JSON Schema to, right ones and damaged ones."""

from collections.abc import Iterator
from typing import Any

from layout_samples import DEMOS
from ruamel.yaml import YAML

from plumbing import units
from plumbing.layout import STARTERS, schema, starter

SCHEMA = schema()
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in DEMOS}
TEXTS |= {f"starter {name}": starter(name) for name in STARTERS}

DAMAGED = [
    ("cut-length: 300 mm", "cut-length: 300 mm, length: 300 mm"),
    ("cut-length: 300 mm", "length: 300"),
    ("title: Small\n", ""),
    ("title: Small", "titel: Small"),
    ("thrust: 60 N", "thrust: 60"),
    ("thrust: 60 N", "thrust: 60 %"),
    ("kind: clunk", "kind: clonk"),
    ("[0 mm, 20 mm]", "[0 mm]"),
    ("[0 mm, 20 mm]", "[0, 20]"),
    ("shape: {box: {", "shape: {bocks: {"),
    (", diameter: 9 mm}", "}"),
    ("throttle: 50 %}", "throttle: 0.5}"),
    ("format: 2", "format: 3"),
    ("feed-order: [main]", "feed-order: main"),
    ("pump: {at", "pu.mp: {at"),
    ("pump: {at", "x" * 41 + ": {at"),
    ("diameter: 9 mm", "diameter: 9 mm, sealed: perhaps"),
    ("duration: 60 s", "duration: 60 s, repeat: 0"),
]


def plain(text):
    """A layout as an editor sees it: YAML 1.2 as plain data."""
    return YAML(typ="safe", pure=True).load(text)


def patterns(node: Any) -> list[str]:
    """Every regular expression of a schema, each once."""
    return sorted(set(_patterns(node)))


def _patterns(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        for key, inner in node.items():
            if key == "pattern" and isinstance(inner, str):
                yield inner
            else:
                yield from _patterns(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from _patterns(inner)


def spellings() -> list[str]:
    """Values as builders write them, and some that are none."""
    units_known = [unit for kind in units.KINDS.values() for unit in kind.units]
    right = [f"{number} {unit}" for number in ("3", "-1.5e3", ".5") for unit in units_known]
    return [*right, "5 min 30 s", "3 furlong/week", "6", "mm", "6 mm!", "main tank", "a.b", "a/b"]
