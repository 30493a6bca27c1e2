"""Vents, overflow and outlets."""
