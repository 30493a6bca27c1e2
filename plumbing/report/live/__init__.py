"""The live page: the report of a file, renewed whenever the file is saved."""

from plumbing.report.live.server import Live

__all__ = ["Live"]
