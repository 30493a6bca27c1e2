"""Geometry that cannot be."""

from plumbing.layout.gathering import Faults
from plumbing.model.layout import Layout


def check(layout: Layout, folder: str, faults: Faults) -> Layout:
    """Note impossible geometry."""
    return layout
