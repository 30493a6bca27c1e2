"""Parts that only some scenarios have: a pinched place, the legs of a tee that change places.

Each is a law of its own, laid into its branch for all scenarios and switched on for its own, so
that all faults stay one batch.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, replace
from typing import Any

import numpy as np

from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import BoreChanges, Circuit, Filters, Fittings, Tubes
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Plumbed, Tag
from plumbing.hydraulics.losses import Moving, branch_loss, compile_losses
from plumbing.model.layout import Layout
from plumbing.physics.arrays import Array, Indices
from plumbing.simulation.fluid import Fluids
from plumbing.studies.fault_list import Effect

PINCH = 0.4  # of its bore, what a pinched line has left; common practice
PINCHED = 2.0  # length of the narrow place, in outer diameters; common practice
_BAND = 0.5  # the middle of every band


@frozen
class Law:
    """Loss = linear mu q + quadratic rho q |q| in one branch.

    `usual` is its factor without a fault, `then` in the scenarios `when`.
    """

    branch: int
    linear: float
    quadratic: float
    usual: float
    then: float
    when: tuple[int, ...]


def with_laws(
    layout: Layout, plumbed: Plumbed, found: Sequence[Effect], fluids: Fluids, dirt: Array
) -> tuple[Plumbed, Array]:
    """Lay in what pinched lines and reversed tees need.

    Parameters
    ----------
    layout, plumbed
        The layout and its circuit, F filters.
    found : sequence of Effect
        Faults of scenarios 1 to S - 1.
    fluids : Fluids
        The fuel.
    dirt : Array
        Factor on the drop of each filter, shape (S, F).

    Returns
    -------
    Plumbed
        The circuit with more laws, which count as filters.
    Array
        Factor on each, shape (S, more).
    """
    pinches = list(_pinches(layout, plumbed, found, fluids))
    legs = sorted({place for one in found for place in one.swapped if place >= 0})
    laws = [*pinches, *(law for leg in legs for law in _leg_laws(plumbed.circuit, leg, found))]
    if not laws:
        return plumbed, dirt
    factors = np.repeat([[law.usual for law in laws]], len(dirt), axis=0)
    for number, law in enumerate(laws):
        factors[list(law.when), number] = law.then
    made, order = _laid_in(_without(plumbed, legs), laws)
    return made, np.concatenate([dirt, factors], axis=1)[:, order]


def _pinches(
    layout: Layout, plumbed: Plumbed, found: Sequence[Effect], fluids: Fluids
) -> Iterator[Law]:
    """A narrow piece of tube: its law is met at full flow and at half of it."""
    flow = layout.full_flow / max(len(layout.engines), 1) * np.array([0.5, 1.0])
    density, viscosity = float(fluids.liquid_density[0]), float(fluids.liquid_viscosity[0])
    basis = np.stack([viscosity * flow, density * flow**2], axis=1)
    for number, one in enumerate(found, 1):
        if one.pinched:
            tube = layout.tube_of(layout.lines[one.pinched])
            narrow = _narrow(tube.inside_diameter, PINCHED * tube.outside_diameter)
            shape = (2, 1)
            moving = Moving(
                flow[:, None],
                np.ones(shape, dtype=bool),
                np.full(shape, density),
                np.full(shape, viscosity),
            )
            conditions = Conditions.of(narrow, band=_BAND)
            loss = branch_loss(compile_losses(narrow), conditions, moving)[0][:, 0]
            linear, quadratic = np.linalg.solve(basis, loss)
            branch = plumbed.line_branch[one.pinched][0]
            yield Law(branch, max(linear, 0.0), max(quadratic, 0.0), 0.0, 1.0, (number,))


def _narrow(bore: float, length: float) -> Circuit:
    """A tube of that bore [m] pinched over a length [m], alone; it is counted as a barb is."""
    small, each = PINCH * bore, np.ones(1)
    along = (length * each, small * each, 0.0 * each, 0.0 * each, 0.0 * each, each)
    return Circuit(
        nodes=("before", "behind"),
        fixed=np.ones(2, dtype=bool),
        mixing=np.zeros(2, dtype=bool),
        branches=("pinch",),
        start=np.array([0]),
        end=np.array([1]),
        points=np.zeros((1, 2, 3)),
        elements=("into it", "along it", "out of it"),
        element_branch=np.zeros(3, dtype=np.intp),
        tubes=Tubes(np.array([1]), *along),
        bore_changes=BoreChanges(
            np.array([0, 2]), np.array([bore, small]), np.array([small, bore])
        ),
    )


def _leg_laws(circuit: Circuit, leg: int, found: Sequence[Effect]) -> Iterator[Law]:
    """A tee's leg as it is, and as the leg it changes places with in some scenarios."""
    branch = int(circuit.element_branch[leg])
    swaps = {n: one.swapped for n, one in enumerate(found, 1) if leg in one.swapped}
    yield Law(branch, *_coefficients(circuit.fittings, leg), 1.0, 0.0, tuple(swaps))
    for number, (one, other) in swaps.items():
        instead = _coefficients(circuit.fittings, other if leg == one else one)
        yield Law(branch, *instead, 0.0, 1.0, (number,))


def _coefficients(fittings: Fittings, element: int) -> tuple[float, float]:
    """Linear [1/m3] and quadratic [1/m4] coefficient of a fitting, in the middle of its band."""
    at = int(np.flatnonzero(fittings.element == element)[0])
    bore = float(fittings.bore[at])
    area = np.pi / 4.0 * bore**2
    k = (1.0 - _BAND) * fittings.k_inf_low[at] + _BAND * fittings.k_inf_high[at]
    return float(fittings.k1[at] / (2.0 * bore * area)), float(k / (2.0 * area**2))


def _without(plumbed: Plumbed, legs: Sequence[int]) -> Plumbed:
    """The same without the fittings at these elements."""
    kept = ~np.isin(plumbed.circuit.fittings.element, legs)
    fittings = _each(plumbed.circuit.fittings, lambda array: array[kept])
    return replace(plumbed, circuit=replace(plumbed.circuit, fittings=fittings))


def _laid_in(plumbed: Plumbed, laws: Sequence[Law]) -> tuple[Plumbed, Indices]:
    """The circuit with laws at the ends of their branches, and the order of its filters."""
    circuit, filters = plumbed.circuit, plumbed.circuit.filters
    old, names = len(circuit.elements), [f"law {number}" for number in range(len(laws))]
    owner = np.concatenate([circuit.element_branch, [law.branch for law in laws]])
    order = np.argsort(owner, kind="stable")
    place = np.argsort(order, kind="stable")

    def moved(kind: Any) -> Any:
        return replace(kind, element=place[kind.element])

    element = np.concatenate([place[filters.element], place[old:]])
    by = np.argsort(element)
    linear = np.concatenate([filters.linear, [law.linear for law in laws]])
    quadratic = np.concatenate([filters.quadratic, [law.quadratic for law in laws]])
    elements, tags = [*circuit.elements, *names], [*plumbed.tags, *(Tag("", "", n) for n in names)]
    made = replace(
        circuit,
        elements=tuple(elements[number] for number in order),
        element_branch=owner[order],
        tubes=moved(circuit.tubes),
        fittings=moved(circuit.fittings),
        bore_changes=moved(circuit.bore_changes),
        filters=Filters(element[by], linear[by], quadratic[by]),
    )
    dirty = np.concatenate([plumbed.dirty, np.ones(len(laws))])[by]
    return replace(plumbed, circuit=made, tags=tuple(tags[n] for n in order), dirty=dirty), by


def _each(kind: Any, change: Any) -> Any:
    return type(kind)(*(change(getattr(kind, one.name)) for one in fields(kind)))
