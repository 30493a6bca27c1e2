"""Under what conditions a circuit is solved: a batch of scenarios, scenario axis first."""

from collections.abc import Iterator
from dataclasses import fields
from itertools import chain
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from plumbing.errors import SolveError
from plumbing.frozen import frozen
from plumbing.hydraulics.circuit import Circuit
from plumbing.physics.arrays import Array, Flags, Indices

POSITIVE = ("liquid_density", "liquid_viscosity", "gas_density", "gas_viscosity")
SHARES = ("share", "resting", "band")
NOT_NEGATIVE = ("threshold", "multiplier", "dirt", *SHARES)
LEVEL = (0.0, 0.0, -9.80665)  # effective gravity at rest and level [m/s2]


@frozen(eq=False)
class Conditions:
    """A batch of S scenarios of one circuit with N nodes, B branches and F filters.

    Every array has the scenario axis first; there its length is S, or 1 for all alike.
    `Conditions.of` fills in what is usual.

    Attributes
    ----------
    gravity : Array
        Effective gravity (gravity minus acceleration) in body axes, shape (S, 3) [m/s2].
    liquid_density, liquid_viscosity, gas_density, gas_viscosity : Array
        Fluids, shape (S,) [kg/m3], [Pa s]. The gas is taken as incompressible.
    fixed_pressure : Array
        Gauge pressure at fixed nodes, shape (S, N) [Pa]; not read at other nodes.
    demand : Array
        Flow drawn out at free nodes, negative if pushed in, shape (S, N) [m3/s].
    head : Array
        Pressure of the liquid standing above each branch end in its tank, rho |g| depth,
        0 for an end above the surface, shape (S, B, 2) [Pa].
    share : Array
        Liquid share that each branch end would deliver if the branch draws there, 0 to 1, shape
        (S, B, 2) [-]; not read where the end is at a mixing node.
    threshold : Array
        Pressure to be overcome by flow entering at that end and spent there: bubble point of an
        uncovered wet fine-pore pickup, cracking pressure of a check valve, shape (S, B, 2) [Pa].
    blocked : Flags
        Ends at which nothing can enter: a check valve's far end, both of a closed valve, shape
        (S, B, 2).
    multiplier : Array
        Factor on the loss of each branch, shape (S, B) [-].
    dirt : Array
        Factor on the drop of each filter, 1 for clean, shape (S, F) [-].
    band : Array
        Where in the band of the coefficients of fittings and changes of bore: 0 low, 1 high,
        shape (S,) [-].
    resting : Array
        Liquid share held by a mixing node through which nothing flows, shape (S, N) [-].
    """

    gravity: Array
    liquid_density: Array
    liquid_viscosity: Array
    gas_density: Array
    gas_viscosity: Array
    fixed_pressure: Array
    demand: Array
    head: Array
    share: Array
    threshold: Array
    blocked: Flags
    multiplier: Array
    dirt: Array
    band: Array
    resting: Array

    @property
    def scenarios(self) -> int:
        """Number of scenarios S."""
        return max(len(getattr(self, entry.name)) for entry in fields(self))

    @classmethod
    def of(
        cls,
        circuit: Circuit,
        *,
        gravity: ArrayLike = LEVEL,
        liquid_density: ArrayLike = 800.0,
        liquid_viscosity: ArrayLike = 1.3e-3,
        gas_density: ArrayLike = 1.225,
        gas_viscosity: ArrayLike = 1.79e-5,
        fixed_pressure: ArrayLike = 0.0,
        demand: ArrayLike = 0.0,
        head: ArrayLike = 0.0,
        share: ArrayLike | None = None,
        threshold: ArrayLike = 0.0,
        blocked: ArrayLike = False,
        multiplier: ArrayLike = 1.0,
        dirt: ArrayLike = 1.0,
        band: ArrayLike = 1.0,
        resting: ArrayLike = 1.0,
    ) -> "Conditions":
        """Conditions with usual values: kerosene at 20 degC, dry air outside, all tanks wet.

        Each argument is anything that broadcasts to the shape of its attribute, with or without
        the scenario axis; by default outside openings deliver gas and tanks liquid.
        """
        nodes, branches = len(circuit.nodes), len(circuit.branches)
        ends = (branches, 2)
        if share is None:
            outside = np.stack([circuit.fixed[circuit.start], circuit.fixed[circuit.end]], axis=-1)
            share = np.where(outside, 0.0, 1.0)
        return cls(
            gravity=_rows(gravity, (3,)),
            liquid_density=_rows(liquid_density, ()),
            liquid_viscosity=_rows(liquid_viscosity, ()),
            gas_density=_rows(gas_density, ()),
            gas_viscosity=_rows(gas_viscosity, ()),
            fixed_pressure=_rows(fixed_pressure, (nodes,)),
            demand=_rows(demand, (nodes,)),
            head=_rows(head, ends),
            share=_rows(share, ends),
            threshold=_rows(threshold, ends),
            blocked=_rows(blocked, ends).astype(bool),
            multiplier=_rows(multiplier, (branches,)),
            dirt=_rows(dirt, (len(circuit.filters.element),)),
            band=_rows(band, ()),
            resting=_rows(resting, (nodes,)),
        )

    def rows(self, which: "Array | Flags | Indices | slice") -> "Conditions":
        """The same for some scenarios only; arrays that are alike for all stay as they are."""
        every = self.scenarios

        def pick(array: Any) -> Any:
            return array[which] if len(array) == every else array

        return Conditions(**{entry.name: pick(getattr(self, entry.name)) for entry in fields(self)})


def _rows(given: ArrayLike, shape: tuple[int, ...]) -> Array:
    """`given` as floats of shape (S or 1, *shape), without copying when it has that shape."""
    array = np.asarray(given, dtype=float)
    if array.ndim <= len(shape):
        array = array[(None,) * (len(shape) + 1 - array.ndim)]
    return np.broadcast_to(array, (len(array), *shape))


def require_sound(circuit: Circuit, conditions: Conditions) -> None:
    """Raise SolveError, naming the quantity, if the conditions hold a value no fluid can have."""
    wrong = next(chain(_shapeless(conditions), _impossible(circuit, conditions)), None)
    if wrong:
        raise SolveError(wrong)


def _shapeless(conditions: Conditions) -> Iterator[str]:
    """Yield what is missing from the conditions, in words."""
    scenarios = conditions.scenarios
    for entry in fields(conditions):
        array = getattr(conditions, entry.name)
        if len(array) not in (1, scenarios):
            yield f"{entry.name} is given for {len(array)} of {scenarios} scenarios"
        if not np.isfinite(array).all():
            yield f"{entry.name} is not a finite number everywhere"


def _impossible(circuit: Circuit, conditions: Conditions) -> Iterator[str]:
    """Yield which values no fluid can have, in words."""
    for name in POSITIVE:
        if (getattr(conditions, name) <= 0.0).any():
            yield f"{name} must be positive"
    for name in NOT_NEGATIVE:
        if (getattr(conditions, name) < 0.0).any():
            yield f"{name} must not be negative"
    for name in SHARES:
        if (getattr(conditions, name) > 1.0).any():
            yield f"{name} must not exceed 1"
    for node in np.flatnonzero(circuit.fixed & (conditions.demand != 0.0).any(axis=0)):
        yield f"a flow is drawn at {circuit.nodes[node]}, whose pressure is given"
