"""What the simulation computes of one layout, or why not: each when first asked for, and once."""

from functools import cached_property

from plumbing.model.layout import Layout
from plumbing.network import Survey, survey
from plumbing.results import NotComputed, Results, result_of
from plumbing.simulation.draining import drain_all
from plumbing.simulation.draining_result import Drained
from plumbing.simulation.filling import fill_all
from plumbing.simulation.filling_result import Filled
from plumbing.simulation.flight import fly
from plumbing.simulation.flight_result import Flown
from plumbing.simulation.parking import park
from plumbing.simulation.parking_result import Parkings
from plumbing.simulation.peak import peak_flow
from plumbing.simulation.peak_result import Peak


class Computed:
    """One layout with its results; read only.

    Attributes
    ----------
    layout : Layout
        The layout as read, with assumptions filled in.
    """

    def __init__(self, layout: Layout) -> None:
        self.layout = layout

    @cached_property
    def survey(self) -> Survey:
        """What the graph alone tells: paths, order, islands, roles of lines, lengths."""
        return survey(self.layout)

    @cached_property
    def peak(self) -> Peak:
        """Every engine at full flow: suctions, drops, pressures, margins."""
        return peak_flow(self.layout, self.survey)

    @cached_property
    def flight(self) -> Flown | NotComputed:
        """The first flight of the layout, or the usual one."""
        return result_of("flight", lambda: fly(self.layout, self.survey))

    @cached_property
    def filling(self) -> Results[Filled]:
        """Filling by fill port."""
        return fill_all(self.layout, self.survey)

    @cached_property
    def draining(self) -> Results[Drained]:
        """Draining by drain and fill port."""
        return drain_all(self.layout, self.survey)

    @cached_property
    def parking(self) -> Parkings | NotComputed:
        """Every attitude it is left in, and its vents."""
        return result_of("parking", lambda: park(self.layout, self.survey))
