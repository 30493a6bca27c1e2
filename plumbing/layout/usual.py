"""Usual values that a layout may leave out and no table of physics has."""

import math

from plumbing.model.engine import Engine
from plumbing.model.parts import Connector, Filter, Pump, Tee, Valve

IDLE_SOURCE = "15 % of full flow, common practice (13 to 18 %)"
FEED_FULL = 400e3
FEED_FULL_SOURCE = "common practice, 300 to 600 kPa: case pressure, nozzles and valve"
FEED_IDLE = 40e3
FEED_IDLE_SOURCE = "common practice, 20 to 60 kPa"
CLUNK = 0.02  # length of a clunk beyond its hose [m]
OIL = "turbine-oil"
WALL = 1e-3  # of a tank [m]
WALL_SOURCE = "common practice, 0.8 to 1.5 mm; for the room the tank takes up"
BODIES = {"tees": Tee, "filters": Filter, "pumps": Pump, "valves": Valve, "connectors": Connector}
WIDTHS = {Tee: 0.010, Connector: 0.012, Valve: 0.015, Filter: 0.020, Pump: 0.028}  # [m]
WIDTH_SOURCE = "common practice, the narrowest of its kind"
ENGINE_SOURCE = "common practice, 60 mm at 20 N and 100 mm at 100 N; from intake to exhaust"


def engine_width(engine: Engine) -> float | None:
    """Diameter of an engine whose body is not stated [m]; None where its place is unknown."""
    placed = engine.intake is not None and engine.exhaust is not None
    if engine.body is not None or not placed or engine.thrust is None:
        return None
    return 0.022 * math.pow(engine.thrust, 1.0 / 3.0)
