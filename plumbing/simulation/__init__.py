"""What the fuel does: at peak flow, in flight, while filling and draining, and parked."""
