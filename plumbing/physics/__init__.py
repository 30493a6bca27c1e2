"""What fluids do: pure functions of arrays in SI units, one phenomenon a module."""
