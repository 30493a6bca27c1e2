"""An outlet is open to grass and insects, or its mesh is too small.

Why: An insect or a plug of grass closes the vent as surely as a cap, and drifts on into the
tank.
Cure: Put a mesh of five times the bore over the outlet.

Bad::

    outlets: {vent: {bore: 4 mm, mesh-area: 20 mm2}}

Good::

    outlets: {vent: {bore: 4 mm, mesh-area: 120 mm2}}
"""

import math

from plumbing.checks.kit import Case, Figure, Found, Lacking, Limit, Says, Severity
from plumbing.units import show

SEVERITY = Severity.ADVICE
SOURCE = "14 CFR 23.977 on strainer area, used as an analogy"
LIMIT = Limit("5", "ratio")


def find(case: Case, limit: float) -> Says:
    for outlet in case.layout.outlets.values():
        if outlet.mesh_area is None:
            yield Lacking(f"outlets.{outlet.name}.mesh-area", outlet.name)
            continue
        needed = limit * math.pi / 4.0 * outlet.bore**2
        if outlet.mesh_area < needed:
            what = (
                f"The mesh over outlet {outlet.name} has {show(outlet.mesh_area, 'area')}, "
                f"not {show(needed, 'area')}."
            )
            figures = Figure(outlet.mesh_area, "area"), Figure(needed, "area")
            yield Found(outlet.name, what, *figures, field="mesh_area")
