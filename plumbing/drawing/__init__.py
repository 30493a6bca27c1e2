"""Drawings as SVG text: the schematic, views to scale, charts; and their export.

graphviz places the parts; every symbol is drawn here, after the open drawing standards.
"""
