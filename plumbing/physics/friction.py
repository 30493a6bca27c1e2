"""Loss of a straight tube at every Reynolds number, by Darcy-Weisbach and Churchill.

Everything is written about ``64/Re``: ``f = (64/Re) (1 + w)**(1/12)`` with a weight `w` that
vanishes in laminar flow. So a tube without flow has a finite slope, nothing overflows, and the
costly part is done only where the flow is not laminar.
"""

import numpy as np
from numpy.typing import ArrayLike

from plumbing.physics.arrays import Array, floats

LAMINAR = 1000.0  # [-] below it the weight is under 1e-12 and the factor 64/Re to 1e-13
_FASTEST = 1e12  # [-] Reynolds numbers beyond are treated as this one
_ROUGHEST = 0.5  # [-] relative roughness beyond is treated as this one
_BLOCK = 8192  # elements worked on at a time, so that they stay in the processor's cache


def reynolds(flow: ArrayLike, bore: ArrayLike, density: ArrayLike, viscosity: ArrayLike) -> Array:
    """Reynolds number of a flow in a round bore.

    Parameters
    ----------
    flow : array_like
        Volume flow, of either sign [m3/s].
    bore : array_like
        Inner diameter, above 0 [m].
    density, viscosity : array_like
        Density [kg/m3] and dynamic viscosity, above 0 [Pa s].

    Returns
    -------
    Array
        Reynolds number [-], never negative, in the broadcast shape.
    """
    scale = 4.0 / np.pi * floats(density) / floats(viscosity)
    return np.abs(np.multiply(flow, scale / floats(bore)))


def churchill(reynolds_number: ArrayLike, relative_roughness: ArrayLike = 0.0) -> Array:
    """Darcy friction factor in laminar, transitional and turbulent flow.

    Parameters
    ----------
    reynolds_number : array_like
        Reynolds number [-], 0 or more; below 1e-9 the factor of 1e-9 is given, to stay finite.
    relative_roughness : array_like
        Wall roughness over bore [-], 0 to 0.05; used up to 0.5, beyond it as 0.5.

    Returns
    -------
    Array
        Darcy friction factor [-], four times Fanning's, in the broadcast shape.

    References
    ----------
    S. W. Churchill, Friction-factor equation spans all fluid-flow regimes, Chemical
    Engineering 84 (24), 1977, 91-92.
    """
    shape = np.broadcast_shapes(np.shape(reynolds_number), np.shape(relative_roughness))
    number = np.broadcast_to(np.maximum(reynolds_number, 1e-9), shape)
    excess, _ = laminar_excess(number, relative_roughness)
    return 64.0 / number * excess


def laminar_excess(
    reynolds_number: ArrayLike, relative_roughness: ArrayLike = 0.0
) -> tuple[Array, Array]:
    """Ratio of the friction factor to 64/Re, and how fast the ratio grows.

    Parameters
    ----------
    reynolds_number : array_like
        Reynolds number [-], 0 or more.
    relative_roughness : array_like
        As for `churchill`.

    Returns
    -------
    ratio, growth : tuple of Array
        Ratio [-], 1 in laminar flow; and d ln(ratio) / d ln(Re) [-], 0 in laminar flow. New
        arrays in the broadcast shape.
    """
    number, rough = floats(reynolds_number), floats(relative_roughness)
    shape = np.broadcast(number, rough).shape
    if number.shape != shape:
        number = np.broadcast_to(number, shape)
    ratio, growth = np.ones(shape), np.zeros(shape)
    beyond = np.flatnonzero(number > LAMINAR)
    if beyond.size:
        walls = None
        if rough.any():
            walls = np.broadcast_to(rough, shape).reshape(-1)[beyond]
        found = _beyond_laminar(number.reshape(-1)[beyond], walls, np.empty((6, beyond.size)))
        ratio.reshape(-1)[beyond], growth.reshape(-1)[beyond] = found
    return ratio, growth


def _beyond_laminar(number: Array, rough: Array | None, work: Array) -> tuple[Array, Array]:
    """Ratio and growth above `LAMINAR`; `number` and `rough` (n,), `work` (6, n), all used up."""
    turbulent, bridge, total, weight, inner, share = work
    np.minimum(number, _FASTEST, out=number)
    np.multiply(number, 1.0 / 7.0, out=inner)
    np.log(inner, out=inner)
    inner *= 0.9
    if rough is None:  # a smooth tube needs one logarithm only
        share.fill(0.9)
    else:
        np.negative(inner, out=share)
        np.exp(share, out=share)
        np.minimum(rough, _ROUGHEST, out=rough)
        rough *= 0.27
        rough += share
        share /= rough
        share *= 0.9
        np.log(rough, out=inner)
    np.multiply(inner, 2.457, out=turbulent)  # its sign is lost in the even power
    _to_sixteenth(turbulent)
    np.divide(37530.0, number, out=bridge)
    _to_sixteenth(bridge)
    np.add(turbulent, bridge, out=total)
    number *= 0.125
    np.multiply(number, number, out=weight)
    weight *= number
    weight *= weight
    weight *= weight
    np.sqrt(total, out=number)
    number *= total
    weight /= number
    np.abs(inner, out=inner)
    turbulent *= share
    turbulent /= inner
    bridge -= turbulent
    bridge /= total
    bridge *= 2.0
    bridge += 1.0
    bridge *= weight
    weight += 1.0
    bridge /= weight
    np.log(weight, out=weight)
    weight *= 1.0 / 12.0
    return np.exp(weight, out=weight), bridge


def _to_sixteenth(base: Array) -> None:
    """Raise to the sixteenth power in place by squaring, far cheaper than a general power."""
    for _ in range(4):
        np.multiply(base, base, out=base)


def tube_loss(
    flow: ArrayLike,
    length: ArrayLike,
    bore: ArrayLike,
    roughness: ArrayLike,
    density: ArrayLike,
    viscosity: ArrayLike,
) -> tuple[Array, Array]:
    """Pressure lost along a straight round tube, and its slope over the flow.

    Parameters
    ----------
    flow : array_like
        Volume flow, positive from start to end [m3/s].
    length, bore, roughness : array_like
        Length, 0 or more; inner diameter, above 0; wall roughness, 0 or more [m].
    density, viscosity : array_like
        Density, above 0 [kg/m3]; dynamic viscosity, above 0 [Pa s].

    Returns
    -------
    drop, slope : tuple of Array
        Pressure lost [Pa], odd in the flow; and its derivative [Pa s/m3], never negative and
        finite without flow. Both in the broadcast shape.

    References
    ----------
    Hagen-Poiseuille for laminar flow; Churchill as in `churchill` beyond it.
    """
    given = [floats(a) for a in (flow, length, bore, roughness, density, viscosity)]
    shared = np.broadcast(*given)
    shape, size = shared.shape, shared.size
    if size <= _BLOCK:
        return _tube_loss(*given)
    drop, slope = np.empty(shape), np.empty(shape)
    rows = max(1, _BLOCK * shape[0] // size)
    for start in range(0, shape[0], rows):
        block = slice(start, start + rows)
        part = [
            each[block] if each.ndim == len(shape) and each.shape[0] > 1 else each for each in given
        ]
        drop[block], slope[block] = _tube_loss(*part)
    return drop, slope


def _tube_loss(
    flow: Array, length: Array, bore: Array, roughness: Array, density: Array, viscosity: Array
) -> tuple[Array, Array]:
    """As `tube_loss`, for arrays that fit the processor's cache."""
    resistance = 128.0 / np.pi * viscosity * (length / (bore * bore) ** 2)
    number = reynolds(flow, bore, density, viscosity)
    ratio, growth = laminar_excess(number, roughness / bore)
    ratio *= resistance
    growth += 1.0
    growth *= ratio
    return ratio * flow, growth
