"""A port of a tank is open and no line joins it.

Why: An open port is a second vent: in flight the tank behind it stops feeding, on the ground it
spills.
Cure: Cap the port, or draw the line that joins it.

Bad::

    tanks: {main: {ports: {spare: {at: [300 mm, 0 mm, 60 mm], bore: 4 mm}}}}

Good::

    tanks: {main: {ports: {spare: {at: [300 mm, 0 mm, 60 mm], bore: 4 mm, capped: yes}}}}
"""

from plumbing.checks.kit import Case, Found, Says, Severity

SEVERITY = Severity.UNSAFE
SOURCE = "common practice"


def find(case: Case, limit: float) -> Says:
    ends = {end for line in case.layout.lines.values() for end in (line.from_, line.to)}
    for tank in case.layout.tanks.values():
        for port in tank.ports.values():
            if not port.capped and f"{tank.name}.{port.name}" not in ends:
                what = f"Port {port.name} of {tank.name} is open and no line joins it."
                yield Found(tank.name, what, field="ports")
