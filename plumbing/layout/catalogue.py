"""Tubes on the shelf, as the layout file names them: `polyurethane 6x4`, `nylon 4x2.5`."""

import csv
from collections.abc import Mapping
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

from plumbing import units
from plumbing.layout.forms import Number, fields_of
from plumbing.model.line import Tube


@cache
def catalogue() -> Mapping[str, Tube]:
    """Tubes by name: material and size, outer by inner diameter in mm."""
    table = resources.files("plumbing.layout") / "tables" / "tubes.csv"
    with table.open(encoding="utf-8") as rows:
        tubes = [_tube(row) for row in csv.DictReader(rows)]
    return MappingProxyType({tube.name: tube for tube in tubes})


def _tube(row: dict[str, str]) -> Tube:
    found: dict[str, Any] = {"name": row["name"], "source": row["source"]}
    for field in fields_of(Tube).values():
        text = row.get(field.name)
        if text:
            form = field.form
            if isinstance(form, Number):
                found[field.name] = units.parse(text, form.quantity.kind)
            else:
                found[field.name] = text
    return Tube(**found)
