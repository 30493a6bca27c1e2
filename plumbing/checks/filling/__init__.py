"""Filling, draining and overflow."""
