"""Like parts of a branch put together, and sums branch by branch."""

import numpy as np

from plumbing.frozen import frozen
from plumbing.physics.arrays import Array, Indices


@frozen(eq=False)
class Groups:
    """Groups of like parts, branch after branch.

    Attributes
    ----------
    of : Indices
        Group of each part, shape (parts,).
    branch : Indices
        Branch of each group, rising, shape (groups,).
    owners : Indices
        Branches that have groups, shape (owners,).
    first : Indices
        First group of each owner, shape (owners,).
    """

    of: Indices
    branch: Indices
    owners: Indices
    first: Indices

    def __len__(self) -> int:
        return len(self.branch)

    def total(self, values: Array) -> Array:
        """Sum over the parts of each group, shape (groups,)."""
        return np.asarray(np.bincount(self.of, values, minlength=len(self.branch)), float)

    def add(self, each: Array, into: Array) -> None:
        """Add `each` (groups, S) to the rows of `into` (branches, S)."""
        if len(self.first) == len(self.branch):
            into[self.owners] += each
        else:
            into[self.owners] += np.add.reduceat(each, self.first, axis=0)

    def beyond(self, values: Array, limit: Array) -> tuple[Indices, Indices]:
        """Where values of branches (B, S) are above a limit of groups, (groups, S) or (groups, 1).

        The group of each such place, and the place among all B times S.
        """
        count = values.shape[1]
        found = np.flatnonzero(values[self.branch] > limit)
        group = found // count
        return group, found + (self.branch[group] - group) * count


def alike(branch: Indices, *measures: Array) -> tuple[Groups, tuple[Array, ...]]:
    """Group parts of the same branch and the same measures, each of shape (parts,).

    Returns the groups and the measures of each group, shape (groups,).
    """
    keys = np.stack([branch.astype(float), *measures], axis=1)
    unique, of = np.unique(keys, axis=0, return_inverse=True)
    columns = tuple(np.ascontiguousarray(column) for column in unique.T)
    owner = columns[0].astype(np.intp)
    owners, first = np.unique(owner, return_index=True)
    return Groups(of.ravel(), owner, owners, first), columns[1:]
