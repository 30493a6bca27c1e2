"""Usual values."""

from dataclasses import replace

from plumbing.findings import Assumption
from plumbing.model.layout import Layout


def complete(layout: Layout, assumed: tuple[Assumption, ...]) -> Layout:
    """Fill in."""
    return replace(layout, assumptions=assumed)
