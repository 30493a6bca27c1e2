"""Many variants of one layout: sizing, remedies, faults, uncertainty, sweeps."""
