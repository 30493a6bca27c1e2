"""Feed order, centre of gravity and balance."""
