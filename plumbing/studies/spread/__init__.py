"""What the tolerances of a layout make of its suction, its endurance and its fuel left behind."""

from plumbing.studies.spread.result import Chance, Spread, Spreading
from plumbing.studies.spread.study import spread

__all__ = ["Chance", "Spread", "Spreading", "spread"]
