"""A header tank's outlet stands where its air collects.

Why: Air gathers at the top in normal flight; an outlet there, or right at the inlet, takes it.
Cure: Put the outlet low or inside a fine-pore body, and let the inlet blow to the other side.

Bad::

    tanks:
      header: {ports: {out: {at: [542 mm, 0 mm, 35 mm]}}}

Good::

    tanks:
      header: {ports: {out: {at: [542 mm, 0 mm, -12 mm]}}}
"""

import math

from plumbing import units
from plumbing.checks.kit import Case, Figure, Found, Says, Severity
from plumbing.model.tank import Port, Tank

SEVERITY = Severity.FAULT
SOURCE = "common practice"

_NEAR = 0.015  # an inlet this near blows its bubbles into the outlet [m]


def find(case: Case, limit: float) -> Says:
    uses = case.survey.lines.values()
    leaving = {use.upstream for use in uses if use.role == "suction"}
    entering = {use.downstream for use in uses if use.role == "suction"}
    for tank in case.layout.headers():
        ports = {f"{tank.name}.{name}": port for name, port in tank.ports.items()}
        inlets = [port for node, port in ports.items() if node in entering]
        for node, outlet in ports.items():
            fine = outlet.pickup is not None and outlet.pickup.kind == "fine-pore"
            if node in leaving and not fine:
                yield from _outlet(tank, outlet, inlets)


def _outlet(tank: Tank, outlet: Port, inlets: list[Port]) -> Says:
    reference = f"{tank.name}.{outlet.name}"
    opening, middle = outlet.inner_end, tank.shape.at[2]
    swings = outlet.pickup is not None and outlet.pickup.kind == "clunk"
    if opening[2] > middle and not swings:
        yield Found(
            tank.name,
            f"The outlet {reference} opens {units.show(opening[2] - middle, 'length')} above the "
            "middle of the header, where air collects.",
            Figure(opening[2], "length"),
            Figure(middle, "length"),
            field="ports",
        )
    for inlet in inlets:
        apart = math.dist(opening, inlet.inner_end)
        if apart < _NEAR:
            yield Found(
                tank.name,
                f"The inlet {tank.name}.{inlet.name} opens {units.show(apart, 'length')} from the "
                f"outlet {reference}, so that bubbles pass straight through.",
                Figure(apart, "length"),
                Figure(_NEAR, "length"),
                field="ports",
            )
