"""A lower bound and a first choice for the search, by pricing the limits."""

from collections.abc import Sequence

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array

_ROUNDS = 3
_WIDEST = 25  # prices tried at once


@frozen(eq=False)
class Bound:
    """Least cost that partial choices can come to.

    Attributes
    ----------
    price : Array
        Price of a whole limit, shape (R,) [kg].
    rest : Array
        Least cost of the groups from each place on, the limits priced, shape (G + 1,) [kg].
    plain : Array
        The same with the limits for nothing, shape (G + 1,) [kg].
    incumbent : float
        Cost of a choice that keeps the limits [kg].
    choice : tuple of int
        That choice.
    """

    price: Array
    rest: Array
    plain: Array
    incumbent: float
    choice: tuple[int, ...]

    def least(self, place: int, spent: Array, used: Array) -> Array:
        """Lower bound of partial choices up to a group, shape (n,), using (n, R) of the limits."""
        priced = spent + self.rest[place] - (1.0 - used) @ self.price
        bound: Array = np.maximum(priced, spent + self.plain[place]) - 1e-12
        return bound


def bound_of(costs: Sequence[Array], shares: Sequence[Array]) -> Bound:
    """Prices that make the bound nearly as high as it can be, and the best choice met.

    Any prices give a true bound; these are found one limit at a time.

    Parameters
    ----------
    costs : sequence of Array
        Costs of the candidates of each group, shape (C,) [kg].
    shares : sequence of Array
        What they take of each limit, shape (C, R), 0 for the least of each group.
    """
    limits = shares[0].shape[1]
    price = np.zeros(limits)
    best = (np.inf, tuple(0 for _ in costs))
    scale = max(sum(float(np.ptp(cost)) for cost in costs), 1e-12)
    steps = scale * np.concatenate([[0.0], 2.0 ** np.linspace(-12.0, 12.0, _WIDEST)])
    for _ in range(_ROUNDS if limits else 0):
        for row in range(limits):
            trial = np.tile(price, (len(steps), 1))
            trial[:, row] = steps
            values, places = _priced(costs, shares, trial)
            price = trial[int(np.argmax(values))]
            best = _better(best, costs, shares, places)
            steps = _finer(steps, price[row])
    widest = tuple(
        int(np.lexsort((c, s.sum(axis=1)))[0]) for c, s in zip(costs, shares, strict=True)
    )
    best = _better(best, costs, shares, np.array([widest], dtype=np.intp))
    least = [float((c + s @ price).min()) for c, s in zip(costs, shares, strict=True)]
    bare = [float(cost.min()) for cost in costs]
    return Bound(price, _from_here_on(least), _from_here_on(bare), best[0], best[1])


def _priced(costs: Sequence[Array], shares: Sequence[Array], prices: Array) -> tuple[Array, Array]:
    """Lagrange bounds at prices (n, R), and the choices they lead to, (n, G)."""
    value, places = -prices.sum(axis=1), []
    for cost, share in zip(costs, shares, strict=True):
        reduced = cost + prices @ share.T
        places.append(reduced.argmin(axis=1))
        value = value + reduced.min(axis=1)
    return value, np.stack(places, axis=1)


def _better(
    best: tuple[float, tuple[int, ...]],
    costs: Sequence[Array],
    shares: Sequence[Array],
    places: Array,
) -> tuple[float, tuple[int, ...]]:
    """The best choice that keeps the limits, of one known and of those given."""
    spent = sum(cost[places[:, k]] for k, cost in enumerate(costs))
    used = sum(share[places[:, k]] for k, share in enumerate(shares))
    able = np.where((np.asarray(used) <= 1.0).all(axis=1), spent, np.inf)
    at = int(np.argmin(able))
    if able[at] < best[0]:
        return float(able[at]), tuple(int(place) for place in places[at])
    return best


def _finer(steps: Array, price: float) -> Array:
    """Prices round the best one found."""
    if price <= 0.0:
        return steps
    return np.concatenate([[0.0], price * 2.0 ** np.linspace(-1.0, 1.0, _WIDEST)])


def _from_here_on(values: Sequence[float]) -> Array:
    return np.concatenate([np.cumsum(values[::-1])[::-1], [0.0]])
