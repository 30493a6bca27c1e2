"""How long pickups are out of fuel."""

from __future__ import annotations

import numpy as np

from plumbing.network import Survey
from plumbing.simulation.feeding import Feeding
from plumbing.simulation.flight_result import History


def uncovered(survey: Survey, feeding: Feeding, history: History) -> dict[str, float]:
    """Time in which some of the bore of each port that feeds was out of fuel, by `tank.port` [s].

    Of a step that begins with a port covered and ends with it uncovered half is counted.

    Parameters
    ----------
    survey : Survey
        It says which ports feed.
    feeding : Feeding
        The network that was flown.
    history : History
        What came of it.
    """
    share = feeding.ends.share(history.lying, feeding.index[history.stretch])
    out, steps = share < 1.0, np.diff(history.time)
    lasts = 0.5 * ((out[:-1] + 0.0) + out[1:]).T @ steps
    found = {}
    for number, (branch, end) in enumerate(zip(feeding.ends.branch, feeding.ends.end, strict=True)):
        tank = feeding.tanks.names[int(feeding.ends.tank[number])]
        port = feeding.plumbed.end_port[branch][end]
        if port in survey.feed_ports(tank):
            found[f"{tank}.{port}"] = float(lasts[number])
    return found
