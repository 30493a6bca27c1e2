"""Circuits for the tests: by hand, and at random."""

import numpy as np

from plumbing.hydraulics.circuit import BoreChanges, Circuit, Filters, Fittings, Tubes
from plumbing.hydraulics.conditions import Conditions

JUNCTION, TANK, OUTSIDE = "junction", "tank", "outside"


def circuit(nodes, branches, **kinds):
    """A circuit from names.

    `nodes` maps name to kind; `branches` maps name to (start, end) or (start, end, points), and
    `kinds` gives elements: tubes={branch: [(length, bore), ...]}, fittings={branch: [(k1, low,
    high, bore)]}, changes={branch: [(before, after)]}, filters={branch: [(linear, quadratic)]}.
    Tubes may add roughness, entry, bend length and coil diameter.
    """
    names = list(nodes)
    parts = []
    for kind, given in kinds.items():
        for branch, several in given.items():
            parts += [(list(branches).index(branch), kind, numbers) for numbers in several]
    parts.sort(key=lambda part: part[0])
    flat = np.zeros((len(branches), 2, 3))
    for row, ends in enumerate(branches.values()):
        if len(ends) > 2:
            flat[row] = ends[2]

    def of(kind, width, usual=()):
        rows = [(place, *numbers) for place, (_, name, numbers) in enumerate(parts) if name == kind]
        table = np.zeros((len(rows), width + 1))
        table[:, width + 1 - len(usual) :] = usual
        for row, numbers in enumerate(rows):
            table[row, : len(numbers)] = numbers
        return table[:, 0].astype(np.intp), *table[:, 1:].T

    return Circuit(
        nodes=tuple(names),
        fixed=np.array([kind == OUTSIDE for kind in nodes.values()]),
        mixing=np.array([kind == JUNCTION for kind in nodes.values()]),
        branches=tuple(branches),
        start=np.array([names.index(ends[0]) for ends in branches.values()], dtype=np.intp),
        end=np.array([names.index(ends[1]) for ends in branches.values()], dtype=np.intp),
        points=flat,
        elements=tuple(f"{kind} {place}" for place, (_, kind, _) in enumerate(parts)),
        element_branch=np.array([part[0] for part in parts], dtype=np.intp),
        tubes=Tubes(*of("tubes", 6, (0.0, 0.0, 0.0, 1.0))),
        fittings=Fittings(*of("fittings", 4)),
        bore_changes=BoreChanges(*of("changes", 2)),
        filters=Filters(*of("filters", 2)),
    )


def random_circuit(rng, nodes=8, extra=4, outside=2):
    """A connected network of tubes, fittings, filters and bore changes at random places."""
    kinds = [OUTSIDE] * outside + [
        str(rng.choice([JUNCTION, TANK])) for _ in range(nodes - outside)
    ]
    place = rng.uniform(-0.5, 0.5, (nodes, 3)) * (1.0, 0.4, 0.3)
    pairs = [(int(rng.integers(0, node)), node) for node in range(1, nodes)]
    pairs += [tuple(map(int, rng.choice(nodes, 2, replace=False))) for _ in range(extra)]
    branches, tubes, fittings, changes, filters = {}, {}, {}, {}, {}
    for number, pair in enumerate(pairs):
        start, end = pair if rng.random() < 0.5 else pair[::-1]
        name = f"b{number}"
        spread = rng.normal(scale=0.02, size=(2, 3))
        points = place[[start, end]] + spread * [[kinds[start] == TANK], [kinds[end] == TANK]]
        branches[name] = (f"n{start}", f"n{end}", points)
        bore = rng.choice([2e-3, 2.5e-3, 3e-3, 4e-3, 6e-3])
        tubes[name] = [(rng.uniform(0.02, 1.0), bore, rng.choice([0.0, 1.5e-6]))]
        if rng.random() < 0.4:
            tubes[name].append((rng.uniform(0.02, 0.5), 4e-3, 0.0, 1.2))
            changes[name] = [(bore, 4e-3)] if bore != 4e-3 else []
        if rng.random() < 0.5:
            fittings[name] = [(800.0, 0.3, 0.3 * (1 + 0.0254 / bore), bore)]
        if rng.random() < 0.15:
            filters[name] = [(rng.uniform(1e10, 1e12), rng.uniform(0.0, 1e11))]
    named = {f"n{node}": kind for node, kind in enumerate(kinds)}
    return circuit(
        named, branches, tubes=tubes, fittings=fittings, changes=changes, filters=filters
    )


def random_conditions(rng, circuit, scenarios=1, gas=True, shut=0.1, threshold=0.2):
    """Scenarios of every kind: attitudes, loads, wet and dry ports, valves, pickups, pumps."""
    nodes, branches = len(circuit.nodes), len(circuit.branches)
    ends = (scenarios, branches, 2)
    at = np.stack([circuit.start, circuit.end], axis=-1)
    tank = ~(circuit.fixed | circuit.mixing)[at]
    direction = rng.normal(size=(scenarios, 3))
    load = rng.uniform(0.0, 8.0, (scenarios, 1)) * 9.80665
    share = np.where(
        rng.random(ends) < 0.6, 1.0, np.where(rng.random(ends) < 0.5, 0.0, rng.random(ends))
    )
    share[:, circuit.fixed[at]] = 0.0
    if not gas:
        share[:] = 1.0
    demand = np.where(
        rng.random((scenarios, nodes)) < 0.25, rng.uniform(0, 1.7e-5, (scenarios, nodes)), 0.0
    )
    return Conditions.of(
        circuit,
        gravity=direction / np.linalg.norm(direction, axis=1, keepdims=True) * load,
        liquid_density=rng.uniform(775.0, 840.0, scenarios),
        liquid_viscosity=rng.uniform(0.8e-3, 8e-3, scenarios),
        fixed_pressure=rng.normal(scale=500.0, size=(scenarios, nodes)),
        demand=np.where(circuit.fixed, 0.0, demand),
        head=np.where(tank & (share > 0), rng.uniform(0, 1500.0, ends), 0.0),
        share=share,
        threshold=np.where(rng.random(ends) < threshold, rng.uniform(0, 5000.0, ends), 0.0),
        blocked=rng.random(ends) < shut,
        multiplier=rng.uniform(0.8, 1.3, (scenarios, branches)),
        dirt=rng.uniform(1.0, 4.0, (scenarios, len(circuit.filters.element))),
        band=rng.uniform(0.0, 1.0, scenarios),
        resting=rng.integers(0, 2, (scenarios, nodes)).astype(float),
    )
