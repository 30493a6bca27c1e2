"""Choosing the tube of every suction and vent line at once."""

from plumbing.studies.sizing.limits import SizingLimits
from plumbing.studies.sizing.result import Choice, Point, Sizing
from plumbing.studies.sizing.size import size

__all__ = ["Choice", "Point", "Sizing", "SizingLimits", "size"]
