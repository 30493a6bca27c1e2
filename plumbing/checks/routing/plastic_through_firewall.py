"""A plastic tube goes through the firewall without a fire sleeve.

Why: A fire in the engine bay burns the tube back to the wall, and fuel follows it, however tight
the hole.
Cure: Lead the line through in metal, or in a fire sleeve on both sides of the wall.

Bad::

    lines: {valve to engine: {tube: nylon 4x2.5, sleeve: null}}

Good::

    lines: {valve to engine: {sleeve: fire}}
"""

from plumbing.checks.kit import Case, Found, Lacking, Says, Severity
from plumbing.checks.materials import is_metal
from plumbing.checks.words import called, subject

SEVERITY = Severity.FAULT
SOURCE = "common practice; 14 CFR 23.1191 on firewalls, from memory, used as an analogy"


def find(case: Case, limit: float) -> Says:
    layout = case.layout
    for line in layout.lines.values():
        if line.sleeve == "fire":
            continue
        tube = layout.tube_of(line)
        for name in line.through:
            former = layout.formers[name.partition(".")[0]]
            if not former.firewall or is_metal(tube.material):
                continue
            if tube.material is None:
                yield Lacking(f"tubes.{tube.name}.material", line.name)
                continue
            wall = called("firewall", former.name)
            what = f"{subject('line', line.name)} goes through {wall} in bare {tube.material}."
            yield Found(line.name, what, field="sleeve", parts=(former.name,))
