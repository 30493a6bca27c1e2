"""Tanks, pickups and their fixing."""
