"""Laying a fragment of a layout file over a starter, as the checks' documentation does."""

from collections.abc import Mapping
from functools import cache
from io import StringIO
from typing import Any

from ruamel.yaml import YAML

from plumbing import layout as layout_files
from plumbing.checks.kit import Case, Check, Found, Lacking
from plumbing.checks.limits import limits_in_force
from plumbing.checks.run import asked
from plumbing.model.layout import Layout
from plumbing.results import NotComputed

TAGGED = ("shape", "body")  # one key of several kinds: another kind takes the place of the first


def merged(base: Any, fragment: Any, key: str = "") -> Any:
    """Lay a fragment over a base: mappings key by key, null deletes, anything else replaces."""
    if not isinstance(base, Mapping) or not isinstance(fragment, Mapping):
        return fragment
    if key in TAGGED and not base.keys() & fragment.keys():
        return fragment
    result = dict(base)
    for name, value in fragment.items():
        if value is None:
            result.pop(name, None)
        else:
            result[name] = merged(result.get(name), value, name)
    return result


def overlaid(starter: str, fragment: str) -> Layout:
    """Layout of a starter with a fragment laid over it."""
    written = StringIO()
    yaml = YAML(typ="safe")
    yaml.sort_base_mapping_type_on_output = False  # the order of a file may matter
    yaml.dump(merged(parsed(layout_files.starter(starter)), parsed(fragment)), written)
    return layout_files.read(written.getvalue(), f"{starter}.yaml")


@cache
def parsed(text: str) -> Any:
    """Plain values of a YAML text."""
    return YAML(typ="safe").load(text)


def said(check: Check, layout: Layout) -> tuple[Found | Lacking | NotComputed, ...]:
    """All one check says of a layout."""
    return asked(check, Case(layout), limits_in_force(layout)[check.name])
