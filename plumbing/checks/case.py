"""What every check may look at: the layout, its network and the computed results.

Results are computed when first asked for and once only, so that a run of a few checks costs
only what they need.
"""

from functools import cached_property

from plumbing.findings import Assumption
from plumbing.results import NotComputed, result_of
from plumbing.simulation.computed import Computed
from plumbing.studies.fault_result import Faults
from plumbing.studies.faults import faults


class Case(Computed):
    """One layout under examination; read only."""

    @cached_property
    def faults(self) -> Faults | NotComputed:
        """The first flight with every single fault."""
        return result_of("single faults", lambda: faults(self.layout, self.survey))

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """Everything that was assumed, the flight included where the layout states none."""
        flight = self.flight
        if isinstance(flight, NotComputed):
            return self.layout.assumptions
        assumed = flight.profile.assumptions
        if flight.profile.assumed:
            usual = Assumption("flights", flight.profile.name, "common practice")
            assumed = (usual, *assumed)
        return (*self.layout.assumptions, *assumed)
