"""Checks that cannot be answered where a file leaves out places, shapes or pickups."""

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files

from plumbing.checks.kit import Check
from plumbing.findings import Finding
from plumbing.model.layout import Layout, split_port

BETWEEN, TUBES, DROPS = "between", "tubes", "drops"  # answered for the parts that say it
PLACES, INSIDE = "places", "inside"
LOCAL = (BETWEEN, TUBES, DROPS)
_ENDINGS = {
    ".at": (BETWEEN, PLACES),
    ".shape": (BETWEEN, PLACES, INSIDE),
    ".pickup": (INSIDE,),
    ".tube": (BETWEEN, TUBES),
    ".clean-drop": (DROPS,),
    ".dirty-drop": (DROPS,),
}
_PORTS = ".ports."


@cache
def _table() -> Mapping[str, Mapping[str, frozenset[str]]]:
    text = files(__package__).joinpath("needs.toml").read_text("utf-8")
    return {
        kind: {key: frozenset(names) for key, names in row.items()}
        for kind, row in tomllib.loads(text).items()
    }


def kind_of(check: Check) -> str:
    """What a check needs to be said: `between`, `places`, `inside`, or nothing."""
    for kind, row in _table().items():
        if check.name in row["checks"] or check.subject in row["subjects"]:
            return kind
    return ""


def lacking(layout: Layout, kind: str) -> tuple[str, ...]:
    """Key paths that checks of a kind need and the file leaves out."""
    return tuple(path for path in layout.unsaid if kind and kind in _kinds(path))


def _kinds(path: str) -> tuple[str, ...]:
    if _PORTS in path and path.endswith(".at"):
        return BETWEEN, PLACES, INSIDE
    return next((kinds for end, kinds in _ENDINGS.items() if path.endswith(end)), ())


def rests_on(layout: Layout, finding: Finding, paths: tuple[str, ...]) -> bool:
    """Whether any part that a finding names, or a part at the ends of its lines, is among paths."""
    loose = {path.split(".")[1] for path in paths}
    return any(name in loose for name in _named(layout, finding))


def _named(layout: Layout, finding: Finding) -> Iterator[str]:
    for name in (finding.part, *finding.parts):
        yield name
        line = layout.lines.get(name)
        if line is not None:
            yield split_port(line.from_)[0]
            yield split_port(line.to)[0]
