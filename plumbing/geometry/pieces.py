"""Piecewise polynomials in rows: finding the piece, its value, and its inverse."""

import numpy as np

from plumbing.physics.arrays import Array, Indices

ROUNDS = 80  # of Newton's method kept in brackets; bisection alone would need about 55


def locate(table: Array, row: Indices, value: Array) -> Indices:
    """Flat place of the last entry of a rising row that is not above a value (or of its first).

    Parameters
    ----------
    table : Array
        Rising rows, shape (D, V).
    row : Indices
        Row of each query, shape (...).
    value : Array
        Values, shape (...).
    """
    count = table.shape[1]
    flat, start = table.ravel(), row * count
    low: Indices = start
    high = start + (count - 1)
    for _ in range(int(count - 1).bit_length()):
        middle = (low + high + 1) // 2
        reached = flat[middle] <= value
        low = np.where(reached, middle, low)
        high = np.where(reached, high, middle - 1)
    return low


def value_at(table: Array, place: Indices, step: Array) -> Array:
    """Value of a piece from its value and derivatives at its start.

    Parameters
    ----------
    table : Array
        Value and derivatives, lowest first, shape (n, D, V).
    place : Indices
        Flat places, shape (...).
    step : Array
        Distance from the start of the piece [m], shape (...).
    """
    series = table.reshape(len(table), -1)
    result = np.zeros(np.shape(step))
    for order in range(len(table) - 1, -1, -1):
        result = series[order][place] + result * step / (order + 1)
    return result


def inverted(table: Array, place: Indices, width: Array, wanted: Array) -> Array:
    """Distance into a rising cubic piece at which it takes a wanted value.

    Newton's method, kept within a bracket that shrinks; where the wanted value is not within
    the piece, the nearer end.

    Parameters
    ----------
    table : Array
        Value and three derivatives, shape (4, D, V).
    place : Indices
        Flat places of the pieces, shape (...).
    width : Array
        Width of the pieces [m], shape (...).
    wanted : Array
        Values, shape (...).
    """
    shape = np.shape(wanted)
    series = table.reshape(4, -1)[:, np.ravel(place)]
    series[0] -= np.ravel(wanted)
    high = np.ravel(width).astype(float)
    result = _first_guess(series, high)
    low, left = np.zeros_like(high), np.arange(len(high))
    guess = result.copy()
    for _ in range(ROUNDS):
        start, slope, bend, twist = series
        rise = slope + guess * (bend + guess * twist / 2.0)
        excess = start + guess * (slope + guess * (bend / 2.0 + guess * twist / 6.0))
        low, high = np.where(excess <= 0.0, guess, low), np.where(excess >= 0.0, guess, high)
        newton = guess - excess / np.where(rise > 0.0, rise, np.inf)
        within = (newton > low) & (newton < high)
        after = np.where(within, newton, 0.5 * (low + high))
        after = np.where((excess == 0.0) | (high <= low), guess, after)
        result[left] = after
        moving = np.abs(after - guess) > 1e-16 + 4e-16 * np.abs(after)
        if not moving.any():
            break
        left, guess, series = left[moving], after[moving], series[:, moving]
        low, high = low[moving], high[moving]
    return result.reshape(shape)


def _first_guess(series: Array, width: Array) -> Array:
    """Where the straight line over each piece takes the value zero, within the piece."""
    start, slope, bend, twist = series
    rise = width * (slope + width * (bend / 2.0 + width * twist / 6.0))
    share = np.where(rise > 0.0, -start / np.where(rise > 0.0, rise, 1.0), 0.0)
    guess: Array = np.clip(share, 0.0, 1.0) * width
    return guess
