"""Parked and in transport."""
