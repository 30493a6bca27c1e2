"""Charts as SVG text from plain arrays: curves, a stair of drops, a map over attitude."""

from plumbing.drawing.charts import Limit, Series, chart
from plumbing.drawing.stairs import stair
from plumbing.drawing.tiltmap import tilt_map

__all__ = ["Limit", "Series", "chart", "stair", "tilt_map"]
