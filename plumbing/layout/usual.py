"""Usual values that a layout may leave out and no table of physics has."""

IDLE_SOURCE = "15 % of full flow, common practice (13 to 18 %)"
FEED_FULL = 400e3
FEED_FULL_SOURCE = "common practice, 300 to 600 kPa: case pressure, nozzles and valve"
FEED_IDLE = 40e3
FEED_IDLE_SOURCE = "common practice, 20 to 60 kPa"
CLUNK = 0.02  # length of a clunk beyond its hose [m]
OIL = "turbine-oil"
