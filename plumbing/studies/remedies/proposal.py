"""A remedy that could be tried."""

from dataclasses import dataclass

from plumbing.model.layout import Layout

FLOW = frozenset({"suction", "vents", "tanks", "order", "filters", "filling"})
PLACES = FLOW | {"routing", "tubing"}
TUBES = FLOW | {"tubing"}


@dataclass(frozen=True, slots=True)
class Proposal:
    """A changed copy of a layout.

    Attributes
    ----------
    change : str
        What to do, in words.
    costs : str
        What it costs: mass, parts, holes.
    layout : Layout
        The layout with the change.
    aims : frozenset of str
        Checks it is meant to help.
    touches : frozenset of str
        Subjects of checks it can help or spoil.
    """

    change: str
    costs: str
    layout: Layout
    aims: frozenset[str]
    touches: frozenset[str] = FLOW
