"""Tube, joints and materials."""
