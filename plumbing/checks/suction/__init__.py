"""Suction side: from the pickups to the pump inlet."""
