"""Drawings as SVG text: the schematic, elevations to scale, charts; and their export.

graphviz places the parts; every symbol is drawn here, after the open drawing standards.
"""

from plumbing.drawing.diagram import schematic

__all__ = ["schematic"]
