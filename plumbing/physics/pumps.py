"""Gear pumps: how hard they can suck."""

SUCTION_LIMIT = 40e3
"""Suction at which vapour and air leave a gear pump no more flow [Pa]; common practice. A tenth of
what it draws is then air set free, by Henry's law with an Ostwald coefficient of 0.15."""
