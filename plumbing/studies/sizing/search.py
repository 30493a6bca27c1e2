"""The exact search: one candidate of each group, the cheapest that keeps every limit.

Costs add up over the groups, and so do the drops. Limits that others imply and candidates that
are nowhere better are left out; what is left falls into parts that share no limit; in each part
the partial choices are built up group by group, and dropped when another is no dearer and no
worse, or when a lower bound (the limits priced by their Lagrange multipliers) shows that they
cannot win. None of this leaves out a better choice.
"""

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Flags, Indices
from plumbing.studies.sizing.bound import bound_of

_EPS = 1e-9


@frozen(eq=False)
class Group:
    """Lines that get one tube, with C candidates under M limits.

    Attributes
    ----------
    cost : Array
        Shape (C,) [kg].
    drop : Array
        What each candidate adds to each limited suction, shape (C, M) [Pa].
    """

    cost: Array
    drop: Array


def cheapest(
    groups: Sequence[Group], room: Array, allowed: Sequence[Flags] | None = None
) -> tuple[int, ...] | None:
    """Candidate of each group, so that the drops keep within `room` and the cost is least.

    Parameters
    ----------
    groups : sequence of Group
        Groups.
    room : Array
        What all drops together may come to, shape (M,) [Pa].
    allowed : sequence of Flags, optional
        Candidates allowed in each group, shape (C,) each; all by default.

    Returns
    -------
    tuple of int or None
        Places of the candidates; None where no choice keeps the limits.
    """
    kept = [
        np.arange(len(group.cost)) if allowed is None else np.flatnonzero(allowed[k])
        for k, group in enumerate(groups)
    ]
    if any(not len(one) for one in kept):
        return None
    least = [group.drop[own].min(axis=0) for group, own in zip(groups, kept, strict=True)]
    slack = _EPS * max(1.0, float(np.abs(room).max(initial=0.0)))
    left = room - np.sum(least, axis=0) + slack
    if (left < 0.0).any():
        return None
    costs = [group.cost[own] for group, own in zip(groups, kept, strict=True)]
    shares = [
        (group.drop[own] - low) / left for group, own, low in zip(groups, kept, least, strict=True)
    ]
    rows = _binding(np.concatenate(shares))
    shares = [share[:, rows] for share in shares]
    places = [0] * len(groups)
    for part in _parts(shares):
        found = _search([costs[k] for k in part], [shares[k] for k in part])
        if found is None:
            return None
        for k, place in zip(part, found, strict=True):
            places[k] = int(kept[k][place])
    return tuple(places)


def _binding(shares: Array) -> Indices:
    """Limits that no other one implies: rows of shares (K, M) not below another everywhere."""
    kept: list[int] = []
    for row in np.argsort(-shares.sum(axis=0), kind="stable"):
        if not any((shares[:, row] <= shares[:, one] + 1e-12).all() for one in kept):
            kept.append(int(row))
    return np.array(kept, dtype=np.intp)


def _parts(shares: Sequence[Array]) -> list[list[int]]:
    """Groups that share a limit, together."""
    touched = [share.max(axis=0) > 0.0 for share in shares]
    parts: list[tuple[list[int], Flags]] = []
    for k, own in enumerate(touched):
        joined, rows = [k], own.copy()
        for part in [one for one in parts if (one[1] & own).any()]:
            parts.remove(part)
            joined, rows = part[0] + joined, rows | part[1]
        parts.append((joined, rows))
    return [sorted(part) for part, _ in parts]


def _search(costs: list[Array], shares: list[Array]) -> tuple[int, ...] | None:
    """Cheapest choice of one part, if any; each limit is 1, and the least drops are 0."""
    bound = bound_of(costs, shares)
    spent, used = np.zeros(1), np.zeros((1, shares[0].shape[1]))
    path = np.zeros((1, 0), dtype=np.intp)
    for k, (cost, share) in enumerate(zip(costs, shares, strict=True)):
        dearer = np.add.outer(spent, cost).ravel()
        fuller = (used[:, None] + share).reshape(-1, used.shape[1])
        from_, place = np.divmod(np.arange(len(dearer)), len(cost))
        able = (fuller <= 1.0).all(axis=1)
        able &= bound.least(k + 1, dearer, fuller) <= bound.incumbent + 1e-12
        chosen = np.flatnonzero(able)
        chosen = chosen[_front(dearer[chosen], fuller[chosen])]
        spent, used = dearer[chosen], fuller[chosen]
        path = np.column_stack([path[from_[chosen]], place[chosen]])
    if not len(spent) or spent.min() > bound.incumbent:
        return bound.choice if np.isfinite(bound.incumbent) else None
    return tuple(int(place) for place in path[int(np.argmin(spent))])


_FRONT = 4000  # states beyond which only those that are alike are merged


def _front(cost: Array, used: Array) -> Indices:
    """States that no other one beats in cost and in every share used."""
    order = np.lexsort((used.sum(axis=1), cost))
    if used.shape[1] <= 1:
        low = np.minimum.accumulate(np.r_[np.inf, used[order].sum(axis=1)])[:-1]
        front: Indices = order[used[order].sum(axis=1) < low - 1e-12]
        return front
    if len(order) > _FRONT:
        _, first = np.unique(np.column_stack([cost, used]).round(12), axis=0, return_index=True)
        return np.asarray(first, dtype=np.intp)
    kept: list[int] = []
    shown = np.empty((0, used.shape[1]))
    for place in order:
        if not (shown <= used[place] + 1e-12).all(axis=1).any():
            kept.append(int(place))
            shown = used[kept]
    return np.array(kept, dtype=np.intp)


def fewest(
    groups: Sequence[Group], room: Array, names: Sequence[Sequence[str]]
) -> tuple[int, ...] | None:
    """Choice with the fewest different tubes; of those the cheapest.

    Parameters
    ----------
    groups, room
        As in `cheapest`.
    names : sequence of sequence of str
        Tube of each candidate of each group.

    Returns
    -------
    tuple of int or None
        Places of the candidates.
    """
    first = cheapest(groups, room)
    if first is None:
        return None
    most = len({names[k][place] for k, place in enumerate(first)})
    kinds = sorted({name for own in names for name in own})
    bits = {name: 1 << number for number, name in enumerate(kinds)}
    has = [sum({bits[name] for name in own}) for own in names]
    best: tuple[float, tuple[int, ...]] = (_cost(groups, first), first)
    for count in range(1, most + 1):
        found = False
        for chosen in _covers(count, has, len(kinds)):
            allowed = [np.array([bool(bits[name] & chosen) for name in own]) for own in names]
            floor = sum(group.cost[own].min() for group, own in zip(groups, allowed, strict=True))
            if found and floor >= best[0]:
                continue
            places = cheapest(groups, room, allowed)
            if places is not None and (not found or _cost(groups, places) < best[0]):
                best, found = (_cost(groups, places), places), True
        if found:
            return best[1]
    return best[1]


def _cost(groups: Sequence[Group], places: Sequence[int]) -> float:
    return float(sum(group.cost[place] for group, place in zip(groups, places, strict=True)))


def _covers(count: int, has: Sequence[int], kinds: int) -> list[int]:
    """Sets of so many kinds, as bits, of which every group has at least one."""
    sets = (sum(1 << kind for kind in chosen) for chosen in combinations(range(kinds), count))
    return [chosen for chosen in sets if all(own & chosen for own in has)]
