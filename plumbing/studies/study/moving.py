"""A part moved as a whole: every point that the layout states for it, none of its sizes."""

from __future__ import annotations

from plumbing.layout import values
from plumbing.layout.forms import Form, Items, Number, Record, Row, Section, Tagged, fields_of
from plumbing.layout.gathering import Faults
from plumbing.layout.tree import Mapping, Node, Scalar, Sequence
from plumbing.model.fields import Quantity
from plumbing.studies.study.written import Path

AXES = {"moved-aft": 0, "moved-starboard": 1, "moved-up": 2}
"""Last keys of a path that moves a part, with the axis of each."""

HOW_FAR = Number(Quantity("length", -100.0, 100.0))
_POINT = (HOW_FAR,) * 3
_PART = 3  # keys of a path that moves a part: section, part, direction


def moves(path: Path) -> bool:
    """Whether a path moves a part instead of leading to a value."""
    return len(path) == _PART and path[-1] in AXES


def moved(node: Node, form: Form | None, axis: int, by: Node) -> Node:
    """The part with every point shifted along an axis by a length as written."""
    step = values.number(HOW_FAR, by, Faults())
    return _shifted(node, form, axis, step) if isinstance(step, float) else node


def _shifted(node: Node, form: Form | None, axis: int, by: float) -> Node:
    if isinstance(node, Sequence):
        if isinstance(form, Row) and form.items == _POINT and len(node.items) == len(_POINT):
            items = list(node.items)
            items[axis] = _farther(items[axis], by)
            return Sequence(tuple(items), node.place)
        inner = form.item if isinstance(form, Items) else None
        return Sequence(tuple(_shifted(one, inner, axis, by) for one in node.items), node.place)
    if isinstance(node, Mapping):
        forms = _forms(node, form)
        entries = {
            key: _shifted(one, forms.get(key), axis, by) for key, one in node.entries.items()
        }
        return Mapping(entries, node.keys, node.place)
    return node


def _forms(node: Mapping, form: Form | None) -> dict[str, Form]:
    if isinstance(form, Record):
        return {key: field.form for key, field in fields_of(form.cls).items()}
    if isinstance(form, Section):
        return dict.fromkeys(node.entries, form.item)
    if isinstance(form, Tagged):
        return {key: Record(cls) for key, cls in form.kinds.items()}
    return {}


def _farther(node: Node, by: float) -> Node:
    at = values.number(HOW_FAR, node, Faults())
    if not isinstance(at, float):
        return node  # a fault, which the reader will tell
    return Scalar(f"{1000.0 * (at + by):.9g} mm", False, node.place)
