"""Solids made of the blocks of a grid, and a flood of voxels that shares nothing with ours."""

import itertools

import numpy as np

from plumbing.geometry.mesh import mesh_of, welded

SIDES = list(itertools.product(range(3), (-1, 1)))


def of_blocks(lines, chosen):
    """Mesh of the union of blocks of a grid.

    `lines` are the coordinates of the planes along x, y and z; `chosen` says which blocks between
    them are in the solid.
    """
    chosen = np.asarray(chosen, bool)
    triangles = []
    for place in np.argwhere(chosen):
        for axis, way in SIDES:
            beside = place.copy()
            beside[axis] += way
            if 0 <= beside[axis] < chosen.shape[axis] and chosen[tuple(beside)]:
                continue
            corners = []
            for u, v in ((0, 0), (1, 0), (1, 1), (0, 1)):
                at = place.copy()
                at[axis] += way > 0
                at[(axis + 1) % 3] += u
                at[(axis + 2) % 3] += v
                corners.append([lines[k][at[k]] for k in range(3)])
            if way < 0:
                corners.reverse()
            triangles += [corners[:3], [corners[0], corners[2], corners[3]]]
    points = np.array(triangles).reshape(-1, 3)
    mesh = welded(points, np.arange(len(points)).reshape(-1, 3))
    return mesh_of(mesh.vertices, mesh.faces)


def random_blocks(rng, shape=(4, 3, 4), share=0.55):
    """Blocks that hang together by their sides, none meeting at an edge or a corner only."""
    while True:
        chosen = rng.random(shape) < share
        chosen = _one_piece(chosen)
        if chosen.sum() > 5 and _manifold(chosen):
            return chosen


def _one_piece(chosen):
    left = {tuple(p) for p in np.argwhere(chosen)}
    best = set()
    while left:
        piece, waiting = set(), [left.pop()]
        while waiting:
            at = waiting.pop()
            piece.add(at)
            for beside in _beside(at):
                if beside in left:
                    left.remove(beside)
                    waiting.append(beside)
        best = max(best, piece, key=len)
    result = np.zeros_like(chosen)
    for at in best:
        result[at] = True
    return result


def _beside(at):
    for axis, way in SIDES:
        yield tuple(c + way * (k == axis) for k, c in enumerate(at))


def _manifold(chosen):
    """Whether no two blocks, and no two gaps, meet at an edge or corner alone."""
    padded = np.pad(chosen, 1)
    for axes in ((0, 1), (0, 2), (1, 2)):
        a = padded
        b, c = np.roll(a, 1, axes[0]), np.roll(a, 1, axes[1])
        d = np.roll(b, 1, axes[1])
        if ((a & d & ~b & ~c) | (~a & ~d & b & c)).any():
            return False
    for ways in itertools.product((1, -1), repeat=2):
        far = np.roll(padded, (1, *ways), (0, 1, 2))
        cube = [
            np.roll(padded, (i, ways[0] * j, ways[1] * k), (0, 1, 2))
            for i, j, k in itertools.product((0, 1), repeat=3)
        ]
        some = sum(one.astype(int) for one in cube)
        if ((padded & far & (some == 2)) | (~padded & ~far & (some == 6))).any():
            return False
    return True


class Flood:
    """The basins of a solid of blocks, by voxels taken in order of height."""

    def __init__(self, lines, chosen, down, fine):
        self.pitch = fine
        axes, blocks = [], []
        for line in lines:
            counts = np.maximum(np.round(np.diff(line) / fine).astype(int), 1)
            edges = np.concatenate(
                [
                    np.linspace(a, b, n, endpoint=False)
                    for a, b, n in zip(line[:-1], line[1:], counts, strict=True)
                ]
                + [[line[-1]]]
            )
            axes.append(0.5 * (edges[1:] + edges[:-1]))
            blocks.append(np.repeat(np.arange(len(counts)), counts))
        inside = np.asarray(chosen)[np.ix_(*blocks)]
        grid = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1)
        height = -(grid @ np.asarray(down))
        self.cell = fine**3
        self._sweep(inside, height)

    def _sweep(self, inside, height):
        places = np.argwhere(inside)
        places = places[np.argsort(height[inside], kind="stable")]
        owner = np.full(inside.shape, -1)
        parent, self.size, self.bottom = [], [], []
        self.ridges = []

        def root(k):
            while parent[k] != k:
                k = parent[k]
            return k

        for place in places:
            at = tuple(place)
            near = set()
            for beside in _beside(at):
                if (
                    all(0 <= c < n for c, n in zip(beside, inside.shape, strict=True))
                    and owner[beside] >= 0
                ):
                    near.add(root(owner[beside]))
            if not near:
                near = {len(parent)}
                parent.append(len(parent))
                self.size.append(0)
                self.bottom.append(height[at])
            first, *others = sorted(near, key=lambda k: self.bottom[k])
            for other in others:
                volumes = self.size[first] * self.cell, self.size[other] * self.cell
                self.ridges.append((height[at], self.bottom[first], self.bottom[other], *volumes))
                parent[other] = first
                self.size[first] += self.size[other]
            owner[at] = first
            self.size[first] += 1
