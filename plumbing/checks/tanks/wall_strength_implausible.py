"""A tank is stated to stand more than its wall can.

Why: Every pressure is judged by this number: if it was guessed, a tank that folds or bursts is
passed.
Cure: Test the tank, or one like it, under water and with a hand pump, and write down what it stood.

Bad::

    tanks: {main: {wall: {proof-pressure: 300 kPa}}}

Good::

    tanks: {main: {wall: {proof-pressure: 30 kPa}}}
"""

import math
from collections.abc import Iterator

from plumbing.checks.kit import Case, Figure, Found, Limit, Says, Severity
from plumbing.checks.materials import material
from plumbing.model.meshes import tank_mesh
from plumbing.model.tank import Box, Mesh, Prism, Tank
from plumbing.physics.walls import flat_burst, round_burst, round_collapse
from plumbing.units import show

SEVERITY = Severity.FAULT
SOURCE = "Windenburg and Trilling, Timoshenko: thin shells and plates; values from memory"
LIMIT = Limit("3", "ratio")  # stated over worked out


def find(case: Case, limit: float) -> Says:
    for tank in case.layout.tanks.values():
        for field, verb, stated, can in _strengths(tank):
            if stated > limit * can:
                what = (
                    f"The {field} of {tank.name} is stated as {show(stated, 'pressure')}; a wall "
                    f"like this {verb} at some {show(can, 'pressure', 2)}."
                )
                figures = Figure(stated, "pressure"), Figure(limit * can, "pressure")
                yield Found(tank.name, what, *figures, field="wall")


def _strengths(tank: Tank) -> Iterator[tuple[str, str, float, float]]:
    """What is stated, in words, and what the wall can stand at most, where that can be known."""
    wall = tank.wall
    made = None if wall is None else material(wall.material)
    if wall is None or wall.thickness is None or made is None or wall.kind == "bag":
        return
    low, high = tank_mesh(tank).bounds
    narrow, width, length = sorted((high - low).tolist())
    if made.strength is None or made.modulus is None:
        return
    flat = flat_burst(made.strength, wall.thickness, width)
    sides = flat if isinstance(tank.shape, Box | Prism | Mesh) else math.inf
    if wall.proof_pressure is not None:
        can = round_burst(made.strength, wall.thickness, narrow)
        yield "proof pressure", "yields", wall.proof_pressure, min(can, sides)
    if wall.collapse_suction is not None:
        can = round_collapse(made.modulus, wall.thickness, narrow, length)
        yield "collapse suction", "folds", wall.collapse_suction, min(can, sides)
