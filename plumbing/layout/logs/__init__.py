"""Recorded flights: a CSV file to arrays in SI, or all its faults with their places."""

from plumbing.layout.logs.read import read_file, read_log
from plumbing.layout.logs.recording import Recording

__all__ = ["Recording", "read_file", "read_log"]
