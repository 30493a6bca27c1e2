"""What other bores and lengths do to the loss of each branch, as factors of a batch.

Each sample's circuit is compiled anew, and its loss taken at the very flow and fluid of each of
its cases. Where the flows follow from continuity alone the factors are exact; where they follow
from the losses, the network is solved and priced again until they hold.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plumbing.hydraulics.circuit import Circuit
from plumbing.hydraulics.compile import compile_suction
from plumbing.hydraulics.conditions import Conditions
from plumbing.hydraulics.layout_circuit import Plumbed
from plumbing.hydraulics.line_elements import SHORTEST, Reference
from plumbing.hydraulics.losses import Moving, branch_loss, compile_losses
from plumbing.hydraulics.solver import Solution
from plumbing.model.layout import Layout
from plumbing.network import Survey
from plumbing.physics.arrays import Array
from plumbing.studies.spread.draws import Draws

_SLOW = 1e-8  # flow at which branches are compared that carry less [m3/s]
_LEAST = 1e-9  # loss below which branches are not compared [Pa]
_MOST = 1e4  # largest factor


def circuits(
    layout: Layout, survey: Survey, reference: Reference, drawn: Plumbed, draws: Draws
) -> list[Circuit]:
    """Circuit of every sample, with its own bores and lengths; the branches are those drawn."""
    places = _bodies(layout, drawn)
    found = []
    for bore, longer in zip(draws.bore, draws.longer, strict=True):
        plumbed = compile_suction(layout, survey, replace(reference, bore_offset=float(bore)))
        circuit = drawn.circuit if plumbed is None else plumbed.circuit
        if plumbed is not None and len(plumbed.tags) != len(drawn.tags):
            places = _bodies(layout, plumbed)
        tubes = circuit.tubes
        length = np.maximum(
            tubes.length + np.where(places >= 0, longer[np.maximum(places, 0)], 0.0), SHORTEST
        )
        bent = np.minimum(tubes.bend_length, length)
        found.append(replace(circuit, tubes=replace(tubes, length=length, bend_length=bent)))
    return found


def _bodies(layout: Layout, plumbed: Plumbed) -> Array:
    """Line of each tube that is the body of one, else -1, shape (tubes,)."""
    place = {name: number for number, name in enumerate(layout.lines)}
    tags = [plumbed.tags[element] for element in plumbed.circuit.tubes.element]
    lines = [place[tag.line] if tag.line and not tag.part else -1 for tag in tags]
    return np.array(
        [
            line if tag.what.startswith("tube ") else -1
            for line, tag in zip(lines, tags, strict=True)
        ],
        dtype=np.intp,
    )


def factors(
    drawn: Circuit, samples: list[Circuit], conditions: Conditions, solved: Solution
) -> Array:
    """Factor on the loss of each branch in every case of every sample, shape (N * cases, B)."""
    cases = len(solved.flow) // max(len(samples), 1)
    moving = _moving(conditions, solved)
    usual = branch_loss(compile_losses(drawn), conditions, moving)[0]
    own = np.empty_like(usual)
    for number, circuit in enumerate(samples):
        rows = slice(number * cases, (number + 1) * cases)
        part = Moving(
            moving.size[rows], moving.forward[rows], moving.density[rows], moving.viscosity[rows]
        )
        losses = compile_losses(circuit)
        own[rows] = branch_loss(losses, conditions.rows(rows), part)[0]
    compared = usual > _LEAST
    ratio = np.where(compared, own / np.where(compared, usual, 1.0), 1.0)
    return np.asarray(np.clip(ratio, 0.0, _MOST))


def _moving(conditions: Conditions, solved: Solution) -> Moving:
    """What each branch carries: the fluid there is most of."""
    wet = solved.share >= 0.5
    return Moving(
        size=np.maximum(np.abs(solved.flow), _SLOW),
        forward=solved.flow >= 0.0,
        density=np.where(wet, conditions.liquid_density[:, None], conditions.gas_density[:, None]),
        viscosity=np.where(
            wet, conditions.liquid_viscosity[:, None], conditions.gas_viscosity[:, None]
        ),
    )
