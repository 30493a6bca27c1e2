"""The limits that sizing keeps: those of the checks, as the layout file sets them."""

from plumbing.checks.limits import limits_in_force
from plumbing.model.layout import Layout
from plumbing.studies.sizing import SizingLimits


def sizing_limits(layout: Layout) -> SizingLimits:
    """Limits of the checks in force for a layout.

    Raises
    ------
    LayoutError
        The file sets a limit that does not exist.
    """
    limits = limits_in_force(layout)
    return SizingLimits(
        usual=limits["inlet-suction-too-high"],
        coldest=limits["cold-suction-too-high"],
        loaded=limits["loaded-suction-too-high"],
        dirty=limits["dirty-suction-too-high"],
        speed=limits["suction-flow-too-fast"],
        narrowest=limits["narrow-bore-on-suction-side"],
        wall_ratio=limits["soft-tube-collapses"],
        loosest=limits["tube-loose-on-barb"],
    )
