"""What elements cost by the laws the solver uses: in a solved circuit, and along ways at a flow."""

from collections.abc import Mapping, Sequence

import numpy as np

from plumbing.findings import Figure
from plumbing.frozen import frozen
from plumbing.hydraulics.assemble import elements_of
from plumbing.hydraulics.branch_laws import blend
from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Row, backwards
from plumbing.hydraulics.line_elements import Reference, line_rows, part_rows
from plumbing.hydraulics.losses import Moving, branch_loss, compile_losses, element_losses
from plumbing.hydraulics.solver import Solution
from plumbing.model.layout import Layout, split_port
from plumbing.model.parts import Connector, Filter, Tee, Valve
from plumbing.network.lengths import LineLength
from plumbing.network.vent_ways import VentWay
from plumbing.physics.arrays import Array
from plumbing.physics.friction import reynolds


@frozen(eq=False)
class Breakdown:
    """Elements and branches of a circuit in S scenarios.

    Attributes
    ----------
    drop : Array
        Pressure lost in each element, along the flow, never negative, shape (S, E) [Pa].
    velocity : Array
        Mean velocity in the element's narrowest bore, 0 for filters, shape (S, E) [m/s].
    reynolds : Array
        Reynolds number there, 0 for filters, shape (S, E) [-].
    share : Array
        Drop over the sum of the drops of its branch, shape (S, E) [-].
    static : Array
        Pressure that standing fluid adds from start to end of each branch: head at the tank
        ports and weight of the fluid in the line, shape (S, B) [Pa].
    """

    drop: Array
    velocity: Array
    reynolds: Array
    share: Array
    static: Array


def breakdown(circuit: Circuit, conditions: Conditions, solution: Solution) -> Breakdown:
    """Drop, velocity and Reynolds number of every element, and standing pressure of every branch.

    Parameters
    ----------
    circuit : Circuit
        The network: E elements, B branches.
    conditions : Conditions
        What it was solved under.
    solution : Solution
        Its solution, S scenarios.

    Returns
    -------
    Breakdown
        The sum of a branch's drops, less `static`, is the difference of the node pressures at its
        ends, less the opening pressure of the end that the fluid enters.
    """
    owner = circuit.element_branch
    share = solution.share.T
    density = blend(share, conditions.liquid_density, conditions.gas_density).T
    viscosity = blend(share, conditions.liquid_viscosity, conditions.gas_viscosity).T
    size = np.abs(solution.flow)[:, owner]
    moving = Moving(size, (solution.flow >= 0.0)[:, owner], density[:, owner], viscosity[:, owner])
    drop, _ = branch_loss(element_losses(circuit), conditions, moving)
    drop *= np.broadcast_to(conditions.multiplier, solution.flow.shape)[:, owner]
    bore = _bores(circuit)
    wide = np.where(bore > 0.0, bore, 1.0)
    number = np.where(bore > 0.0, reynolds(size, wide, density[:, owner], viscosity[:, owner]), 0.0)
    total = np.zeros(solution.flow.shape)
    np.add.at(total.T, owner, drop.T)
    whole = total[:, owner]
    rise = circuit.points[:, 1] - circuit.points[:, 0]
    head = conditions.head[:, :, 0] - conditions.head[:, :, 1]
    return Breakdown(
        drop=drop,
        velocity=np.where(bore > 0.0, size / (np.pi / 4.0 * wide**2), 0.0),
        reynolds=number,
        share=np.where(whole > 0.0, drop / np.where(whole > 0.0, whole, 1.0), 0.0),
        static=head + density * (conditions.gravity @ rise.T),
    )


def _bores(circuit: Circuit) -> Array:
    """Narrowest bore of each element, 0 for filters, shape (E,) [m]."""
    bore = np.zeros(len(circuit.elements))
    bore[circuit.tubes.element] = circuit.tubes.bore
    bore[circuit.fittings.element] = circuit.fittings.bore
    changes = circuit.bore_changes
    bore[changes.element] = np.minimum(changes.before, changes.after)
    return bore


def way_losses(
    ways: Sequence[Sequence[Row]], flow: Array, density: Array, viscosity: Array, band: float
) -> Array:
    """Pressure lost on ways that stand side by side, each with its own flow.

    Parameters
    ----------
    ways : sequence of sequence of Row
        Elements of each of W ways, in the order positive flow meets them; filters and pickups
        are taken as clean.
    flow, density, viscosity : Array
        Volume flow [m3/s], density [kg/m3] and dynamic viscosity [Pa s], shape (S, W).
    band : float
        Loss coefficients from the low (0) to the high (1) end of their band.

    Returns
    -------
    Array
        Loss, never negative, shape (S, W) [Pa].
    """
    circuit = _side_by_side(ways)
    moving = Moving(np.abs(flow), flow >= 0.0, density, viscosity)
    return branch_loss(compile_losses(circuit), Conditions.of(circuit, band=band), moving)[0]


def drop_along(rows: Sequence[Row], flow: float, density: float, viscosity: float) -> Figure:
    """Pressure lost along elements passed one after another.

    Parameters
    ----------
    rows : sequence of Row
        The elements, in flow order; filters and pickups are taken as clean.
    flow : float
        Volume flow, 0 or more [m3/s].
    density, viscosity : float
        Density [kg/m3] and dynamic viscosity [Pa s].

    Returns
    -------
    Figure
        Pressure [Pa]: its band spans the low and high loss coefficients of fittings and changes
        of bore, its value is the middle.
    """
    size, rho, mu = (np.array([[value]]) for value in (flow, density, viscosity))
    low, high = (float(way_losses([rows], size, rho, mu, band)[0, 0]) for band in (0.0, 1.0))
    return Figure(0.5 * (low + high), "pressure", low, high)


def _side_by_side(ways: Sequence[Sequence[Row]]) -> Circuit:
    """A circuit of branches that only stand side by side, to be priced at known flows."""
    count = len(ways)
    rows = [row for way in ways for row in way]
    return Circuit(
        nodes=("before", "after"),
        fixed=np.array([True, False]),
        mixing=np.array([False, True]),
        branches=tuple(str(number) for number in range(count)),
        start=np.zeros(count, dtype=np.intp),
        end=np.ones(count, dtype=np.intp),
        points=np.zeros((count, 2, 3)),
        elements=tuple(row.tag.what for row in rows),
        element_branch=np.repeat(np.arange(count), [len(way) for way in ways]),
        **elements_of(rows),
    )


def vent_rows(
    layout: Layout, lengths: Mapping[str, LineLength], way: VentWay, reference: Reference
) -> list[Row]:
    """Everything a flow meets on its way from a tank out of an outlet, the mouth included."""
    rows = backwards(part_rows(way.tank, way.port.name, reference))
    for name, forward in zip(way.lines, way.forward, strict=True):
        own = line_rows(layout, layout.lines[name], lengths[name].used, reference)
        rows += own if forward else backwards(own)
    for name, port in map(split_port, way.ports):
        part = layout.part(name)
        if isinstance(part, Tee) or (isinstance(part, Valve | Filter | Connector) and port == "in"):
            rows += part_rows(part, port, reference)
    return rows
