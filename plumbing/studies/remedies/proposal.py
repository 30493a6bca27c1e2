"""A remedy that could be tried."""

from plumbing.frozen import frozen
from plumbing.model.layout import Layout


@frozen
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
    """

    change: str
    costs: str
    layout: Layout
    aims: frozenset[str]
