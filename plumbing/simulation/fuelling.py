"""Fuel in and fuel out: filling through every port that is needed, and draining."""

from __future__ import annotations

from plumbing.frozen import frozen
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.results import Results
from plumbing.simulation.draining import drain_all
from plumbing.simulation.draining_result import Drained
from plumbing.simulation.filling import fill_all, filled_through
from plumbing.simulation.filling_result import Filled


@frozen(eq=False)
class Fuelling:
    """Filling and draining of a layout.

    Attributes
    ----------
    filled : Results of Filled
        By fill port.
    drained : Results of Drained
        By drain or fill port.
    """

    filled: Results[Filled]
    drained: Results[Drained]

    @property
    def partial(self) -> bool:
        """Whether somebody stopped it before all was computed."""
        return any(one.stopped for one in (*self.filled.missing, *self.drained.missing))


def fuelling(layout: Layout, survey: Survey, port: str | None = None) -> Fuelling:
    """Fill an empty layout and drain a full one.

    Parameters
    ----------
    layout, survey
        The layout and its survey.
    port : str, optional
        Fill through this port only.
    """
    filled = (
        fill_all(layout, survey)
        if port is None
        else Results({port: filled_through(layout, survey, port)})
    )
    return Fuelling(filled, drain_all(layout, survey))
