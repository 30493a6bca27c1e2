"""What a choice of tubes has to keep."""

from plumbing.frozen import frozen


@frozen
class SizingLimits:
    """Limits, as the checks of the same subject use them.

    Attributes
    ----------
    usual, coldest, loaded, dirty : float
        Suction at the pump inlet: at the usual temperature, over all temperatures, under all load
        factors, and with filters due for change [Pa].
    speed : float
        In a tube of the suction side at full flow [m/s].
    narrowest : float
        Bore of a joint over the bore of its tube on the suction side [-].
    wall_ratio : float
        Bore over wall of a soft tube under suction [-].
    tightest, loosest : float
        Bore of a tube over its barb [-].
    """

    usual: float = 10e3
    coldest: float = 15e3
    loaded: float = 20e3
    dirty: float = 15e3
    speed: float = 1.0
    narrowest: float = 0.70
    wall_ratio: float = 4.0
    tightest: float = 0.75
    loosest: float = 0.95
