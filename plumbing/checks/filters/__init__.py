"""Filters, valves and the ways to stop the engine."""
