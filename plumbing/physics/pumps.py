"""Pumps: curves as measured, slip of gear pumps, and what is left at the inlet."""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats
from plumbing.physics.constants import GRAVITY

SUCTION_LIMIT = 40e3  # [Pa] here vapour and air leave a gear pump no more flow; common practice


def pressure_at(flow: ArrayLike, curve_flow: ArrayLike, curve_pressure: ArrayLike) -> Array:
    """Pressure rise of a pump at a flow, from its measured curve.

    Parameters
    ----------
    flow : array_like
        Flow asked for, any shape [m3/s].
    curve_flow, curve_pressure : array_like
        Points of the curve, shape (n,), in any order [m3/s], [Pa].

    Returns
    -------
    Array
        Pressure rise [Pa]: straight between points, level before the first, and beyond the last
        along the last stretch, never below 0. Without points, 0.
    """
    flows, pressures = floats(curve_flow).ravel(), floats(curve_pressure).ravel()
    asked = floats(flow)
    if not flows.size:
        return np.zeros(asked.shape)
    order = np.argsort(flows, kind="stable")
    flows, pressures = flows[order], pressures[order]
    inside = np.interp(asked, flows, pressures)
    slope = 0.0
    if flows.size > 1 and flows[-1] > flows[-2]:
        slope = min((pressures[-1] - pressures[-2]) / (flows[-1] - flows[-2]), 0.0)
    beyond = floats(np.maximum(asked - flows[-1], 0.0))
    return floats(np.maximum(inside + slope * beyond, 0.0))


def slip_flow(
    speed: ArrayLike,
    displacement: ArrayLike,
    slip: ArrayLike,
    pressure_rise: ArrayLike,
    viscosity: ArrayLike,
) -> Array:
    """Flow of a gear pump with the leak through its gaps taken off.

    Parameters
    ----------
    speed : array_like
        Turns per second [1/s].
    displacement : array_like
        Volume moved in a turn [m3].
    slip : array_like
        Slip coefficient, about 1e-8 to 1e-7 [-].
    pressure_rise, viscosity : array_like
        Pressure rise [Pa] and dynamic viscosity, above 0 [Pa s].

    Returns
    -------
    Array
        Flow [m3/s], 0 where the leak is more than the gears move.

    References
    ----------
    W. E. Wilson, slip of positive-displacement pumps, from memory.
    """
    moved = floats(speed) * floats(displacement)
    leak = floats(slip) * floats(displacement) * floats(pressure_rise)
    return floats(np.maximum(moved - leak / (2.0 * np.pi * floats(viscosity)), 0.0))


def npsh_available(
    surface_pressure: ArrayLike,
    vapour_pressure: ArrayLike,
    density: ArrayLike,
    level: ArrayLike,
    loss: ArrayLike,
    gravity: ArrayLike = GRAVITY,
) -> Array:
    """Net positive suction head available at a pump's inlet.

    Parameters
    ----------
    surface_pressure, vapour_pressure : array_like
        Absolute pressure on the fuel and vapour pressure [Pa].
    density : array_like
        Density, above 0 [kg/m3].
    level : array_like
        Height of the surface above the inlet, negative below it [m].
    loss : array_like
        Pressure lost on the way to the inlet [Pa].
    gravity : array_like
        Effective gravity, above 0 [m/s2].

    Returns
    -------
    Array
        Head of fuel [m]. With air dissolved in the fuel, bubbles bite long before this does.

    References
    ----------
    Definition, as used in Crane TP-410, chapter 7.
    """
    weight = floats(density) * floats(gravity)
    net = floats(surface_pressure) - floats(vapour_pressure) - floats(loss)
    return net / weight + floats(level)


def scaled_by_speed(
    flow: ArrayLike, head: ArrayLike, power: ArrayLike, ratio: ArrayLike
) -> tuple[Array, Array, Array]:
    """Flow, head and power of a centrifugal pump at another speed; `ratio` is new over old [-].

    References
    ----------
    Affinity laws, as used in Crane TP-410, chapter 7.
    """
    ratio = floats(ratio)
    return floats(flow) * ratio, floats(head) * ratio**2, floats(power) * ratio**3
