"""Layout files: reading with every fault in its place, starters, schema."""

from plumbing.layout.load import load, names_in, read
from plumbing.layout.schema import schema
from plumbing.layout.starting import STARTERS, starter

__all__ = ["STARTERS", "load", "names_in", "read", "schema", "starter"]
