"""The full flow that a part passes: the drop of a filter or pickup is stated at it."""

from __future__ import annotations

from plumbing.model.layout import Layout
from plumbing.network import Survey


def full_flow_through(layout: Layout, survey: Survey, part: str) -> float:
    """Full flow of the engines fed through a part [m3/s].

    A part on no engine's way from its nearest tank (such as the pickup of a far tank) passes the
    flow of all engines that lines join it to.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    part : str
        Filter, tank or other part.
    """
    on_way = [
        name
        for name, feed in survey.feeds.items()
        if feed.path is not None and part in feed.path.path.parts
    ]
    joined = [island.engines for island in survey.islands if part in island.parts]
    engines = on_way or [name for group in joined for name in group]
    return sum(layout.engines[name].full_flow or 0.0 for name in engines)
