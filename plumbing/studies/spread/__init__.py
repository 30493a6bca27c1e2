"""What the tolerances of a layout make of its suction, its endurance and its fuel left behind."""

from plumbing.studies.spread.result import Chance, Share, Spread, Spreading
from plumbing.studies.spread.study import Wanted, spread

__all__ = ["Chance", "Share", "Spread", "Spreading", "Wanted", "spread"]
