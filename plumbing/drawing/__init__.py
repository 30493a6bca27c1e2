"""Drawings as SVG text: the schematic, views to scale, charts; and their export.

graphviz places the parts; every symbol is drawn here, after the open drawing standards.
"""

from plumbing.drawing.diagram import schematic
from plumbing.drawing.elevations import elevation
from plumbing.drawing.export import to_pdf, to_png

__all__ = ["elevation", "schematic", "to_pdf", "to_png"]
