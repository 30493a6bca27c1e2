"""Drawings, labels, tests and care."""
