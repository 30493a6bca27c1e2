"""What either way of solving hands back."""

from dataclasses import dataclass

from plumbing.physics.arrays import Array


@dataclass(slots=True, eq=False)
class Found:
    """Steady states of a batch of S scenarios.

    Attributes
    ----------
    flow : Array
        Shape (S, B) [m3/s].
    pressure : Array
        Shape (S, N) [Pa].
    node_share, end_share : Array
        Liquid share at nodes and delivered by branch ends, shape (S, N) and (S, B, 2) [-].
    unmet : Array
        Largest pressure by which a law is missed, shape (S,) [Pa].
    iterations : int
        Linear solves made.
    """

    flow: Array
    pressure: Array
    node_share: Array
    end_share: Array
    unmet: Array
    iterations: int
